import { describe, expect, it } from 'vitest';
import { ATTEMPTS_PER_MINUTE_MAX, Attempts, UNKNOWN_PER_MINUTE_MAX } from '../../app/_server/attempts.ts';
import { serverContext } from '../../app/_server/context.ts';
import { cookieOf, PASSWORD, problemOf, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

const attempt = (email: unknown, password: unknown = 'not the password') =>
  send('POST', '/api/auth/sign-in/email', { json: { email, password } });

describe('a flood of sign-ins', () => {
  it('is turned away beyond a short queue, and other requests are answered meanwhile', async () => {
    const cookie = await signIn('ada@rims.example');
    const flood = Array.from({ length: 40 }, (_, n) => attempt(`flood${n}@rims.example`));
    const began = performance.now();
    expect((await send('GET', '/api/v1/me', { cookie })).status).toBe(200);
    expect(performance.now() - began).toBeLessThan(1000);
    const replies = await Promise.all(flood);
    const busy = replies.filter((reply) => reply.status === 429);
    expect(busy.length).toBeGreaterThanOrEqual(30);
    expect(replies.filter((reply) => reply.status === 401)).toHaveLength(40 - busy.length);
    const [first] = busy;
    expect(Number(first?.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(first && (await problemOf(first))).toMatchObject({ code: 'sign-in-busy' });
  });

  it('with addresses that have no account shares one count and leaves no rows', async () => {
    const { attempts, store, now } = await serverContext();
    for (let n = 0; n < UNKNOWN_PER_MINUTE_MAX; n += 1) {
      attempts.take('unknown', UNKNOWN_PER_MINUTE_MAX, Date.parse(now()));
    }
    const refused = await attempt('somebody.else@rims.example');
    expect(await problemOf(refused)).toMatchObject({ status: 429, code: 'sign-in-often' });
    expect(await signIn('ada@rims.example')).toContain('session_token');
    const tables = store.sqlite.prepare("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all();
    expect(tables).not.toContain('rateLimit');
  });

  it('holds its counts for a minute and forgets them when there are many', () => {
    const attempts = new Attempts();
    expect([1, 2, 3].map(() => attempts.take('a', 2, 1000))).toEqual([0, 0, 60]);
    expect(attempts.take('a', 2, 60_999)).toBe(1);
    expect(attempts.take('a', 2, 61_000)).toBe(0);
    for (let n = 0; n < 3000; n += 1) attempts.take(`key ${n}`, 2, 70_000);
    expect(attempts.take('a', 2, 130_000)).toBe(0);
  });
});

describe('signing in with members that are no text', () => {
  const deep = `${'['.repeat(7000)}${']'.repeat(7000)}`;
  const post = (path: string, text: string, cookie = '') =>
    send('POST', path, {
      cookie,
      bytes: Buffer.from(text),
      headers: { 'content-type': 'application/json' },
    });

  it.each([
    ['the address', `{"email":${deep},"password":"x"}`, 'email'],
    ['the password', `{"email":"ada@rims.example","password":${deep}}`, 'password'],
  ])('is refused by field: %s', async (_, text, field) => {
    expect(await problemOf(await post('/api/auth/sign-in/email', text))).toMatchObject({
      status: 400,
      field,
    });
  });

  it('never passes on what nobody described', async () => {
    const json = { email: 'sol@rims.example', password: PASSWORD, callbackURL: 'https://evil.example' };
    const response = await send('POST', '/api/auth/sign-in/email', { json });
    expect([response.status, response.headers.get('location')]).toEqual([200, null]);
    const text = `{"email":"sol@rims.example","password":"${PASSWORD}","more":${deep}}`;
    expect((await post('/api/auth/sign-in/email', text)).status).toBe(200);
  });

  it('is refused alike when a password is changed', async () => {
    const cookie = await signIn('ada@rims.example');
    const text = `{"currentPassword":"x","newPassword":${deep}}`;
    expect(await problemOf(await post('/api/auth/change-password', text, cookie))).toMatchObject({
      status: 400,
      field: 'newPassword',
    });
  });
});

describe('changing the own password', () => {
  it('is slowed down per person whatever else the request carries', async () => {
    const cookie = await signIn('ada@rims.example');
    const statuses: number[] = [];
    for (let n = 0; n < ATTEMPTS_PER_MINUTE_MAX + 1; n += 1) {
      const json = {
        currentPassword: `guess number ${n}`,
        newPassword: 'quiet winter gravel road',
        email: `invented${n}@rims.example`,
      };
      const sent = { cookie: `${cookie}; extra=${n}`, json };
      statuses.push((await send('POST', '/api/auth/change-password', sent)).status);
    }
    expect(statuses).toEqual([...new Array(ATTEMPTS_PER_MINUTE_MAX).fill(400), 429]);
  });

  it('ends every other session of the person, asked for or not', async () => {
    const own = await signIn('sol@rims.example');
    const other = await signIn('sol@rims.example');
    const json = {
      currentPassword: PASSWORD,
      newPassword: 'quiet winter gravel road',
      revokeOtherSessions: false,
    };
    const changed = await send('POST', '/api/auth/change-password', { cookie: own, json });
    expect(changed.status).toBe(200);
    expect((await send('GET', '/api/v1/me', { cookie: other })).status).toBe(401);
    expect((await send('GET', '/api/v1/me', { cookie: cookieOf(changed) })).status).toBe(200);
  });
});

describe('hashing passwords', () => {
  it('leaves the event loop free', async () => {
    const { accounts } = await serverContext();
    let turns = 0;
    const timer = setInterval(() => {
      turns += 1;
    }, 1);
    await Promise.all([1, 2, 3, 4].map(() => accounts.hash(PASSWORD)));
    clearInterval(timer);
    expect(turns).toBeGreaterThan(10);
  });
});
