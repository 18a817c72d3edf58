import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { closeServerContext, serverContext } from '../../app/_server/context.ts';
import { contract } from '../../app/_server/contract/index.ts';
import { rateLimitAddress, readLog } from '../../lib/store/server/index.ts';
import { anEntry, NORTH, PASSWORD, problemOf, send, signIn, twoSites } from './support.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rimbook-trouble-'));
  process.env.RIMBOOK_DATA = folder;
  vi.spyOn(console, 'error').mockImplementation(() => {});
});
afterEach(async () => {
  await closeServerContext();
  delete process.env.RIMBOOK_DATA;
  delete process.env.RIMBOOK_TRUST_PROXY;
  rmSync(folder, { recursive: true, force: true });
  vi.restoreAllMocks();
});

const IDS: Readonly<Record<string, string>> = {
  all: 'get-session',
  id: NORTH,
  site: NORTH,
  type: 'wheel',
  sha256: 'a'.repeat(64),
  size: '320',
};

describe('a server that cannot serve', () => {
  it('refuses every operation with the sentence that says what to do', async () => {
    writeFileSync(join(folder, 'rimbook.sqlite'), 'this was a database once. '.repeat(400));
    for (const operation of contract) {
      const path = operation.path.replace(/\{(\w+)\}/g, (_, name: string) => IDS[name] ?? '');
      const response = await send(operation.method, path, operation.bodyKind === 'json' ? { json: {} } : {});
      expect([operation.id, await problemOf(response)]).toEqual([
        operation.id,
        expect.objectContaining({
          status: 500,
          code: 'store-damaged',
          detail: expect.stringContaining('restore the folder from the latest backup'),
        }),
      ]);
    }
  });

  it('names every wrong setting', async () => {
    process.env.RIMBOOK_TRUST_PROXY = 'maybe';
    const problem = await problemOf(await send('GET', '/api/v1/installation'));
    expect(problem).toMatchObject({ status: 500, detail: expect.stringContaining('RIMBOOK_TRUST_PROXY') });
  });

  it('because its disk is full keeps nothing of a batch and goes on when there is space', async () => {
    const context = await serverContext();
    await twoSites(context);
    const cookie = await signIn('ada@rims.example');
    const pages = Number(context.store.sqlite.pragma('page_count', { simple: true }));
    context.store.sqlite.pragma(`max_page_count = ${pages + 1}`);
    const entries = Array.from({ length: 100 }, () => anEntry({ body: { text: 'x'.repeat(4000) } }));
    const full = await send('POST', '/api/v1/entries', { cookie, json: { entries } });
    expect(await problemOf(full)).toMatchObject({
      status: 500,
      code: 'store-full',
      detail: expect.stringContaining('free some space'),
    });
    context.store.sqlite.pragma('max_page_count = 1073741823');
    expect(readLog(context.store, { site: NORTH, after: 0, limit: 10 }).entries).toEqual([]);
    expect((await send('POST', '/api/v1/entries', { cookie, json: { entries } })).status).toBe(200);
  });

  it('because its database became read-only says so when someone signs in, and still tells who is', async () => {
    const context = await serverContext();
    await twoSites(context);
    const cookie = await signIn('ada@rims.example');
    context.store.sqlite.pragma('query_only = ON');
    const json = { email: 'sol@rims.example', password: PASSWORD };
    expect(await problemOf(await send('POST', '/api/auth/sign-in/email', { json }))).toMatchObject({
      status: 500,
      code: 'store-unwritable',
    });
    expect((await send('GET', '/api/v1/me', { cookie })).status).toBe(200);
  });

  it('because of a bug gives a reference that is in its log, and no details', async () => {
    const context = await serverContext();
    await twoSites(context);
    const cookie = await signIn('ada@rims.example');
    context.store.sqlite.exec('DROP TABLE projection_inspection');
    const problem = await problemOf(await send('GET', `/api/v1/queue?site=${NORTH}`, { cookie }));
    expect(problem).toMatchObject({ status: 500, code: 'unexpected' });
    expect(JSON.stringify(problem)).not.toContain('projection_inspection');
    const logged = vi.mocked(console.error).mock.calls.map((call) => call.map(String).join(' '));
    expect(logged.join('\n')).toContain(String(problem.reference));
    expect(logged.join('\n')).toContain('projection_inspection');
  });
});

describe('the address behind a proxy', () => {
  const forwarded = new Headers({ 'x-forwarded-for': '198.51.100.7, 203.0.113.9' });

  it('is the last one of X-Forwarded-For when the proxy is trusted', () => {
    expect(rateLimitAddress(forwarded, true, 'ada@rims.example')).toBe('203.0.113.9');
  });

  it('is never taken from a client otherwise', () => {
    const own = rateLimitAddress(new Headers(), false, 'ada@rims.example');
    expect(rateLimitAddress(forwarded, false, 'Ada@rims.example ')).toBe(own);
    expect(rateLimitAddress(new Headers({ 'x-forwarded-for': 'junk' }), true, 'ada@rims.example')).toBe(own);
    expect(rateLimitAddress(forwarded, false, 'sol@rims.example')).not.toBe(own);
  });

  it('limits sign-ins when trusted, account by account or not', async () => {
    process.env.RIMBOOK_TRUST_PROXY = '1';
    await twoSites(await serverContext());
    const attempt = async (from: string, n: number) => {
      const json = { email: `guess${n}@rims.example`, password: PASSWORD };
      const headers = { 'x-forwarded-for': `192.0.2.${n}, ${from}` };
      return (await send('POST', '/api/auth/sign-in/email', { json, headers })).status;
    };
    const statuses: number[] = [];
    for (let n = 0; n < 9; n += 1) statuses.push(await attempt('203.0.113.9', n));
    expect(statuses.at(-1)).toBe(429);
    expect(await attempt('203.0.113.10', 10)).toBe(401);
  });
});
