import { beforeAll, describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { verifyChains } from '../../lib/store/server/index.ts';
import {
  anEntry,
  append,
  NORTH,
  type Outcome,
  problemOf,
  SOUTH,
  send,
  signIn,
  twoSites,
  WHEEL,
  withServer,
} from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  cookie = await signIn('ada@rims.example');
});

const outcomes = (...entries: unknown[]) => append(cookie, entries);

describe('sending entries', () => {
  it('answers each by id, and the same again when they are sent again', async () => {
    const entries = [anEntry(), anEntry()];
    expect((await outcomes(...entries)).map(({ id, status }) => [id, status])).toEqual(
      entries.map((entry) => [entry.id, 'stored']),
    );
    expect((await outcomes(...entries)).map(({ status }) => status)).toEqual([
      'already stored',
      'already stored',
    ]);
  });

  it.each([
    ['a missing id', { id: undefined }, 'id'],
    ['an id of another kind', { id: '44444444-4444-4444-8444-444444444444' }, 'id'],
    ['an unknown type of subject', { subject: { type: 'truck', id: WHEEL } }, 'subject.type'],
    ['a time without zone', { at: '2026-05-04T07:59:00.000' }, 'at'],
    ['a version of nothing', { v: 0 }, 'v'],
    ['a body that is a list', { body: [] }, 'body'],
    ['a member too many', { extra: 1 }, 'extra'],
  ])('with %s refuses that one alone and names the field', async (_, change, field) => {
    const good = anEntry();
    const results = await outcomes({ ...anEntry(), ...change }, good);
    expect(results[0]).toMatchObject({ status: 'refused', problem: { code: 'entry-envelope', field } });
    expect(results[1]).toMatchObject({ id: good.id, status: 'stored' });
  });

  it('refuses what is no entry at all, number by number', async () => {
    expect((await outcomes(null, 7, 'x', [])).map(({ id, status }) => [id, status])).toEqual(
      new Array(4).fill(['', 'refused']),
    );
  });

  it('takes entries of the signed-in person only', async () => {
    expect((await outcomes(anEntry({ author: 'sol' })))[0]?.problem?.code).toBe('entry-author');
  });

  it('takes entries for own sites only, and speaks of an unknown site alike', async () => {
    const [foreign] = await outcomes(anEntry({ site: SOUTH }));
    const [unknown] = await outcomes(anEntry({ site: WHEEL }));
    expect(foreign?.problem).toMatchObject({ code: 'site-unknown' });
    expect({ ...unknown?.problem, value: '' }).toEqual({ ...foreign?.problem, value: '' });
  });

  it('takes a device clock up to a day ahead', async () => {
    const ahead = (hours: number) => new Date(Date.now() + hours * 3_600_000).toISOString();
    const results = await outcomes(anEntry({ at: ahead(23.9) }), anEntry({ at: ahead(24.1) }));
    expect(results.map(({ status, problem }) => problem?.code ?? status)).toEqual(['stored', 'entry-future']);
  });

  it('refuses numbers and depths that cannot be kept', async () => {
    const entry = JSON.stringify(anEntry({ body: { value: 'HERE' } }));
    const post = async (text: string) => {
      const response = await send('POST', '/api/v1/entries', {
        cookie,
        bytes: Buffer.from(`{"entries":[${text}]}`),
        headers: { 'content-type': 'application/json' },
      });
      return ((await response.json()) as { results: Outcome[] }).results[0]?.problem;
    };
    expect(await post(entry.replace('"HERE"', '1e999'))).toMatchObject({
      code: 'entry-number',
      field: 'body.value',
      value: 'Infinity',
    });
    const deep = `${'['.repeat(50_000)}${']'.repeat(50_000)}`;
    expect(await post(entry.replace('"HERE"', deep))).toMatchObject({ code: 'entry-depth' });
  });

  it('takes bodies up to 64 kB, outlines and verdicts a little more', async () => {
    // The members around the text take 11 bytes: {"text":""}.
    const note = (bytes: number) => anEntry({ body: { text: 'x'.repeat(bytes - 11) } });
    const results = await outcomes(note(64_000), note(64_001), anEntry({ kind: 'constructor' }));
    expect(results.map(({ status, problem }) => problem?.code ?? status)).toEqual([
      'stored',
      'entry-bytes',
      'stored',
    ]);
    expect(results[1]?.problem?.message).toContain('64 kB');
    const many = new Array(30_000).fill({ x: 0.5, y: 0.5 });
    const kind = 'from a newer version';
    expect((await outcomes(anEntry({ kind, body: { many } })))[0]?.problem?.code).toBe('entry-bytes');
    const drawn = anEntry({ kind: 'mark drawn', v: 9, body: { text: 'x'.repeat(200_000) } });
    expect((await outcomes(drawn))[0]?.status).toBe('stored');
  });

  it('answers nesting of any depth anywhere by refusing', async () => {
    const deep = `${'['.repeat(100_000)}${']'.repeat(100_000)}`;
    const post = (text: string) =>
      send('POST', '/api/v1/entries', {
        cookie,
        bytes: Buffer.from(text),
        headers: { 'content-type': 'application/json' },
      });
    const opened = anEntry({ kind: 'inspection opened', body: { wheel: 'HERE', reason: 'yearly' } });
    const id = JSON.stringify({ ...anEntry(), id: 'HERE' });
    for (const entry of [JSON.stringify(opened), id, '"HERE"']) {
      const response = await post(`{"entries":[${entry.replace('"HERE"', deep)}]}`);
      expect(response.status).toBe(200);
      expect(((await response.json()) as { results: Outcome[] }).results[0]?.status).toBe('refused');
    }
    expect((await post(`{"entries":${deep}}`)).status).toBe(200);
    expect((await post(`{"more":${deep}}`)).status).toBe(400);
    expect((await post(deep)).status).toBe(400);
  });

  it('takes 1 to 500 entries at once', async () => {
    const status = async (count: number) =>
      (
        await send('POST', '/api/v1/entries', {
          cookie,
          json: { entries: Array.from({ length: count }, () => anEntry()) },
        })
      ).status;
    expect([await status(0), await status(500), await status(501)]).toEqual([400, 200, 400]);
  });

  it('keeps the record whole through all of this', async () => {
    expect(verifyChains((await serverContext()).store).faults).toEqual([]);
  });
});

describe('reading entries', () => {
  it('pages through a site in order of arrival', async () => {
    const seqs: number[] = [];
    for (let after = 0, more = true; more; ) {
      const response = await send('GET', `/api/v1/entries?site=${NORTH}&after=${after}&limit=100`, {
        cookie,
      });
      const page = (await response.json()) as {
        entries: Array<{ seq: number }>;
        next: number;
        more: boolean;
      };
      seqs.push(...page.entries.map((entry) => entry.seq));
      after = page.next;
      more = page.more;
    }
    expect(seqs.length).toBeGreaterThan(500);
    expect(seqs).toEqual([...seqs].sort((a, b) => a - b));
  });

  it('keeps to the asked types of subject and refuses others', async () => {
    await outcomes(anEntry({ subject: { type: 'wheel', id: WHEEL } }));
    const response = await send('GET', `/api/v1/entries?site=${NORTH}&subjects=wheel,component`, { cookie });
    const { entries } = (await response.json()) as { entries: Array<{ subject: { type: string } }> };
    expect(entries.map((entry) => entry.subject.type)).toEqual(['wheel']);
    const wrong = await send('GET', `/api/v1/entries?site=${NORTH}&subjects=truck`, { cookie });
    expect(await problemOf(wrong)).toMatchObject({ status: 400, field: 'subjects.0' });
  });

  it('gives the wheel with its inspections, and the queue', async () => {
    await outcomes(anEntry({ kind: 'inspection opened', body: { wheel: WHEEL, reason: 'yearly' } }));
    const book = await send('GET', `/api/v1/wheels/${WHEEL}/book?site=${NORTH}`, { cookie });
    expect(await book.json()).toMatchObject({
      wheel: WHEEL,
      entries: [{ subject: { type: 'wheel' } }],
      inspections: [{ line: { wheel: WHEEL, status: 'open', inspector: 'ada' } }],
    });
    const queue = await send('GET', `/api/v1/queue?site=${NORTH}&status=open&limit=1`, { cookie });
    expect(await queue.json()).toMatchObject({ inspections: [{ wheel: WHEEL }], cursor: null });
    const cursor = await send('GET', `/api/v1/queue?site=${NORTH}&cursor=nonsense`, { cookie });
    expect(await problemOf(cursor)).toMatchObject({ status: 400, code: 'queue-cursor' });
  });

  it('names a wrong parameter', async () => {
    const wrong = async (query: string) =>
      (await problemOf(await send('GET', `/api/v1/entries?${query}`, { cookie }))).field;
    expect(await wrong('')).toBe('site');
    expect(await wrong(`site=${NORTH}&after=-1`)).toBe('after');
    expect(await wrong(`site=${NORTH}&limit=1001`)).toBe('limit');
    expect(await wrong(`site=${NORTH}&colour=red`)).toBe('colour');
  });
});
