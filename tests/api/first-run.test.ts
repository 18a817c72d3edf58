import { describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { listPeople, listSites } from '../../lib/store/server/index.ts';
import { PASSWORD, problemOf, send, signIn, withServer } from './support.ts';

withServer();

const FIRST = { name: 'Ada', email: 'ada@rims.example', password: PASSWORD, siteName: 'North pit' };

describe('the first run', () => {
  it('refuses a weak password and makes nothing', async () => {
    const response = await send('POST', '/api/v1/first-run', { json: { ...FIRST, password: 'short' } });
    expect(await problemOf(response)).toMatchObject({ status: 422, code: 'password-short' });
    const state = await send('GET', '/api/v1/installation');
    expect(await state.json()).toEqual({ firstRun: true });
  });

  it('names a wrong field', async () => {
    const response = await send('POST', '/api/v1/first-run', { json: { ...FIRST, email: 'ada' } });
    expect(await problemOf(response)).toMatchObject({ status: 400, field: 'email', value: 'ada' });
  });

  it('makes one person and one site even when five people ask at once', async () => {
    const asked = await Promise.all(
      [1, 2, 3, 4, 5].map((n) =>
        send('POST', '/api/v1/first-run', {
          json: { ...FIRST, email: `ada${n}@rims.example`, siteName: `Pit ${n}` },
        }),
      ),
    );
    expect(asked.map((response) => response.status).sort()).toEqual([201, 409, 409, 409, 409]);
    const { store } = await serverContext();
    expect(listPeople(store)).toHaveLength(1);
    expect(listSites(store)).toHaveLength(1);
    const [person] = listPeople(store);
    expect(person).toMatchObject({ administrator: true });
    expect(person?.sites[0]?.roles).toEqual(['inspector', 'lead', 'reviewer']);
    expect(await signIn(person?.email ?? '')).toContain('session_token');
  });

  it('is over then', async () => {
    expect(await (await send('GET', '/api/v1/installation')).json()).toEqual({ firstRun: false });
    const response = await send('POST', '/api/v1/first-run', { json: FIRST });
    expect(await problemOf(response)).toMatchObject({ status: 409, code: 'first-run-done' });
  });
});
