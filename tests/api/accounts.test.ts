import { describe, expect, it } from 'vitest';
import { ATTEMPTS_PER_MINUTE_MAX } from '../../app/_server/attempts.ts';
import { NORTH, PASSWORD, problemOf, SOUTH, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

describe('signing in', () => {
  it('sets a session cookie that scripts cannot read and other sites do not send', async () => {
    const response = await send('POST', '/api/auth/sign-in/email', {
      json: { email: 'ada@rims.example', password: PASSWORD },
    });
    expect(response.status).toBe(200);
    const cookie = response.headers.getSetCookie().find((one) => one.includes('session_token')) ?? '';
    const key = /session_token=([^.]+)\./.exec(cookie)?.[1] ?? '';
    expect(key.length).toBeGreaterThan(20);
    expect(await response.text()).not.toContain(key);
    const session = await send('GET', '/api/auth/get-session', { cookie: cookie.split(';')[0] ?? '' });
    const told = await session.text();
    expect(told).toContain('ada@rims.example');
    expect(told).not.toContain(key);
    expect(cookie).toMatch(/HttpOnly/i);
    expect(cookie).toMatch(/SameSite=Lax/i);
  });

  it('tells who is signed in, with sites and roles', async () => {
    const cookie = await signIn('ada@rims.example');
    const response = await send('GET', '/api/v1/me', { cookie });
    expect(await response.json()).toEqual({
      person: { id: 'ada', name: 'ADA', email: 'ada@rims.example', administrator: false },
      sites: [{ id: NORTH, name: 'North pit', roles: ['inspector', 'lead'] }],
    });
  });

  it('ends with signing out', async () => {
    const cookie = await signIn('ada@rims.example');
    expect((await send('POST', '/api/auth/sign-out', { cookie, json: {} })).status).toBe(200);
    expect((await send('GET', '/api/v1/me', { cookie })).status).toBe(401);
  });

  it('is refused alike for a wrong password and an unknown address', async () => {
    const wrong = await send('POST', '/api/auth/sign-in/email', {
      json: { email: 'sol@rims.example', password: 'not the password' },
    });
    const unknown = await send('POST', '/api/auth/sign-in/email', {
      json: { email: 'nobody@rims.example', password: 'not the password' },
    });
    const first = await problemOf(wrong);
    expect(first).toMatchObject({ status: 401, code: 'sign-in-refused' });
    expect(await problemOf(unknown)).toEqual(first);
  });

  it('is slowed down per account whatever addresses a client claims', async () => {
    const attempt = (n: number) =>
      send('POST', '/api/auth/sign-in/email', {
        json: {
          email: n % 2 === 0 ? 'guessed@rims.example' : 'Guessed@RIMS.example',
          password: `guess number ${n}`,
        },
        headers: { 'x-forwarded-for': `203.0.113.${n}`, 'x-rimbook-address': `203.0.113.${n}` },
      });
    const statuses: number[] = [];
    for (let n = 0; n < ATTEMPTS_PER_MINUTE_MAX + 2; n += 1) statuses.push((await attempt(n)).status);
    expect(statuses).toEqual([...new Array(ATTEMPTS_PER_MINUTE_MAX).fill(401), 429, 429]);
    // Nothing else that succeeds under a key that looks alike starts the count anew.
    const cookie = 'guessed@rims.example';
    expect((await send('GET', '/api/auth/get-session', { cookie })).status).toBe(200);
    const refused = await attempt(99);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(await problemOf(refused)).toMatchObject({ code: 'sign-in-often' });
    expect(await signIn('ada@rims.example')).toContain('session_token');
  });

  it('is the only thing open of the accounts library: no sign-up, no administration', async () => {
    const json = { email: 'new@rims.example', password: PASSWORD, name: 'New' };
    const cookie = await signIn('root@rims.example');
    for (const path of [
      'sign-up/email',
      'admin/create-user',
      'admin/set-role',
      'update-user',
      'delete-user',
    ]) {
      expect([path, (await send('POST', `/api/auth/${path}`, { json, cookie })).status]).toEqual([path, 404]);
    }
    expect((await send('GET', '/api/auth/admin/list-users', { cookie })).status).toBe(404);
  });
});

describe('passwords', () => {
  it.each([
    ['elevenchars', 'password-short', '12'],
    ['Password1234', 'password-common', 'first ones that are tried'],
    ['aaaaaaaaaaaa', 'password-common', 'first ones that are tried'],
    ['Ada.Long@rims.example', 'password-email', 'e-mail address'],
  ])('%s is refused with the rule it breaks', async (password, code, words) => {
    const cookie = await signIn('root@rims.example');
    const json = { name: 'Ada Long', email: 'ada.long@rims.example', password };
    const problem = await problemOf(await send('POST', '/api/v1/people', { cookie, json }));
    expect(problem).toMatchObject({
      status: 422,
      code,
      field: 'password',
      detail: expect.stringContaining(words),
    });
    expect(JSON.stringify(problem)).not.toContain(password);
  });

  it('are changed by their owner under the same rules', async () => {
    const admin = await signIn('root@rims.example');
    const made = { name: 'Cal', email: 'cal@rims.example', password: PASSWORD };
    expect((await send('POST', '/api/v1/people', { cookie: admin, json: made })).status).toBe(201);
    const cookie = await signIn('cal@rims.example');
    const change = (newPassword: string) =>
      send('POST', '/api/auth/change-password', { cookie, json: { currentPassword: PASSWORD, newPassword } });
    expect(await problemOf(await change('changeme1234'))).toMatchObject({
      status: 422,
      field: 'newPassword',
    });
    expect((await change('quiet winter gravel road')).status).toBe(200);
    expect(await signIn('cal@rims.example', 'quiet winter gravel road')).toContain('session_token');
  });
});

describe('people', () => {
  it('are made, given roles, closed and opened by an administrator', async () => {
    const cookie = await signIn('root@rims.example');
    const json = {
      name: 'Bea',
      email: 'Bea@rims.example',
      password: PASSWORD,
      roles: [{ site: NORTH, roles: ['inspector'] }],
    };
    const made = await send('POST', '/api/v1/people', { cookie, json });
    expect(made.status).toBe(201);
    const { person } = (await made.json()) as { person: { id: string } };
    expect(person).toMatchObject({ email: 'bea@rims.example', administrator: false, disabled: false });
    const bea = await signIn('bea@rims.example');

    const roles = await send('PUT', `/api/v1/people/${person.id}/roles`, {
      cookie,
      json: { site: SOUTH, roles: ['reviewer', 'reviewer'] },
    });
    expect(((await roles.json()) as { person: { sites: unknown } }).person.sites).toEqual([
      { id: NORTH, name: 'North pit', roles: ['inspector'] },
      { id: SOUTH, name: 'South pit', roles: ['reviewer'] },
    ]);

    await send('POST', `/api/v1/people/${person.id}/disabled`, { cookie, json: { disabled: true } });
    expect((await send('GET', '/api/v1/me', { cookie: bea })).status).toBe(401);
    await expect(signIn('bea@rims.example')).rejects.toThrow('closed');
    await send('POST', `/api/v1/people/${person.id}/disabled`, { cookie, json: { disabled: false } });
    const again = await signIn('bea@rims.example');

    const changed = await send('POST', `/api/v1/people/${person.id}/password`, {
      cookie,
      json: { password: 'another four word phrase' },
    });
    expect(changed.status).toBe(200);
    expect((await send('GET', '/api/v1/me', { cookie: again })).status).toBe(401);
    await expect(signIn('bea@rims.example')).rejects.toThrow('401');
    expect(await signIn('bea@rims.example', 'another four word phrase')).toContain('session_token');
  });

  it('are not made twice with one address', async () => {
    const cookie = await signIn('root@rims.example');
    const json = { name: 'Ada again', email: 'ADA@rims.example', password: PASSWORD };
    expect(await problemOf(await send('POST', '/api/v1/people', { cookie, json }))).toMatchObject({
      status: 409,
      code: 'email-taken',
    });
  });

  it('cannot close their own account', async () => {
    const cookie = await signIn('root@rims.example');
    const response = await send('POST', '/api/v1/people/root/disabled', { cookie, json: { disabled: true } });
    expect(await problemOf(response)).toMatchObject({ status: 409, code: 'own-account' });
  });

  it('are listed by name and role to members of their site', async () => {
    const cookie = await signIn('sol@rims.example');
    const response = await send('GET', `/api/v1/sites/${SOUTH}/people`, { cookie });
    const { people } = (await response.json()) as { people: unknown[] };
    expect(people).toContainEqual({ id: 'sol', name: 'SOL', roles: ['inspector'] });
    expect(people).not.toContainEqual(expect.objectContaining({ id: 'ada' }));
  });

  it('other than administrators cannot administer', async () => {
    const cookie = await signIn('ada@rims.example');
    const calls: ReadonlyArray<readonly [string, string, unknown]> = [
      ['GET', '/api/v1/people', undefined],
      ['POST', '/api/v1/people', { name: 'X', email: 'x@rims.example', password: PASSWORD }],
      ['PUT', '/api/v1/people/ada/roles', { site: SOUTH, roles: ['lead'] }],
      ['POST', '/api/v1/people/sol/password', { password: PASSWORD }],
      ['POST', '/api/v1/people/sol/disabled', { disabled: true }],
      ['POST', '/api/v1/sites', { name: 'East pit' }],
    ];
    for (const [method, path, json] of calls) {
      const response = await send(method, path, { cookie, json });
      expect([path, (await problemOf(response)).code]).toEqual([path, 'administrators-only']);
    }
  });
});

describe('sites', () => {
  it('are made by an administrator, each name once', async () => {
    const cookie = await signIn('root@rims.example');
    const made = await send('POST', '/api/v1/sites', {
      cookie,
      json: { name: 'West pit', keepLocation: true },
    });
    expect(made.status).toBe(201);
    expect(await made.json()).toMatchObject({ site: { name: 'West pit', keepLocation: true } });
    const again = await send('POST', '/api/v1/sites', { cookie, json: { name: 'west PIT' } });
    expect(await problemOf(again)).toMatchObject({ status: 409, code: 'site-name-taken' });
  });

  it('are listed to their members only, and all to an administrator', async () => {
    const names = async (email: string) => {
      const response = await send('GET', '/api/v1/sites', { cookie: await signIn(email) });
      return ((await response.json()) as { sites: Array<{ name: string }> }).sites.map((site) => site.name);
    };
    expect(await names('ada@rims.example')).toEqual(['North pit']);
    expect(await names('root@rims.example')).toEqual(expect.arrayContaining(['North pit', 'South pit']));
  });
});
