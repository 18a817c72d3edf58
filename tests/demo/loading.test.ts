import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { checkPassword, verifyChains } from '../../lib/store/server/index.ts';
import { placesToCut } from '../../tools/demo/details.ts';
import { loadDemo } from '../../tools/demo/loading.ts';
import { demoPeople } from '../../tools/demo/people.ts';
import { demoPictures } from '../../tools/demo/pictures.ts';
import { ORIGIN, send, signIn, withServer } from '../api/support.ts';
import { dials } from './told.ts';

withServer();

/** Requests until the connection is lost. */
let lostAfter = Number.POSITIVE_INFINITY;

/** Sends what the loader fetches straight to the routes. */
async function toRoutes(address: string, init: RequestInit): Promise<Response> {
  lostAfter -= 1;
  if (lostAfter < 0) throw new TypeError('The connection was lost');
  const headers = Object.fromEntries(new Headers(init.headers));
  const bytes = init.body instanceof Uint8Array ? init.body : undefined;
  const json: unknown = typeof init.body === 'string' ? JSON.parse(init.body) : undefined;
  return send(init.method ?? 'GET', address, {
    headers,
    ...(bytes === undefined ? {} : { bytes }),
    ...(json === undefined ? {} : { json }),
  });
}

beforeAll(() => {
  vi.stubGlobal('fetch', toRoutes);
});
afterAll(() => {
  vi.unstubAllGlobals();
});

async function logLength(): Promise<number> {
  const { store } = await serverContext();
  const report = verifyChains(store);
  expect(report.faults).toEqual([]);
  return report.entries;
}

describe('loading the demonstration', () => {
  test('goes on where it was cut off, sends everything, and nothing another time', async () => {
    const pictures = demoPictures();
    const photos = pictures.size + placesToCut(pictures).length + dials.length;
    lostAfter = 90;
    await expect(loadDemo(ORIGIN, '2026-11-25')).rejects.toThrow('The connection was lost');
    lostAfter = Number.POSITIVE_INFINITY;
    const begun = await logLength();
    expect(begun).toBeGreaterThan(0);
    const rest = await loadDemo(ORIGIN, '2026-11-27');
    expect(await logLength()).toBe(begun + rest.entriesSent);
    expect(begun + rest.entriesSent).toBeGreaterThan(8000);
    const { store } = await serverContext();
    const held = store.sqlite.prepare('SELECT count(*) AS photos FROM photo').get();
    expect(held).toEqual({ photos });
    const again = await loadDemo(ORIGIN, '2026-11-28');
    expect(again).toEqual({ entriesSent: 0, photosSent: 0 });
  }, 240_000);

  test('lets everyone sign in with the printed password, at one site with their roles', async () => {
    for (const { email, password, roles } of demoPeople) {
      const cookie = await signIn(email, password);
      const me = (await (await send('GET', '/api/v1/me', { cookie })).json()) as {
        sites: { name: string; roles: string[] }[];
      };
      expect(me.sites.map((site) => [site.name, [...site.roles].sort()])).toEqual([
        ['Demonstration quarry', [...roles].sort()],
      ]);
    }
  });
});

describe('the people of the demonstration', () => {
  test('have passwords that keep the rules and names that are nobody’s', () => {
    for (const { email, password, name } of demoPeople) {
      expect(checkPassword(password, email).ok).toBe(true);
      expect(name).toMatch(/^Demo (administrator|lead|inspector \d|reviewer \d)$/);
      expect(email).toMatch(/@quarry\.example$/);
    }
  });
});
