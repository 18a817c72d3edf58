import { describe, expect, it } from 'vitest';
import { canonicalJson, fail, problem, sha256Hex } from '../../../lib/base/index.ts';
import { FIRST_HASH } from '../../../lib/record/index.ts';
import { append, readLog, readSubject, rebuildProjections } from '../../../lib/store/server/index.ts';
import {
  appendAll,
  inspectionId,
  makeEntry,
  OTHER_SITE,
  options,
  project,
  RECEIVED_AT,
  SITE,
  temporaryStore,
  WHEEL,
} from './support.ts';

const INSPECTION = { site: SITE, type: 'inspection', id: inspectionId(1) } as const;

describe('appending entries', () => {
  it('gives each its place in the log and the time of arrival', () => {
    const store = temporaryStore();
    expect(appendAll(store, makeEntry(1), makeEntry(2))).toEqual([
      { id: makeEntry(1).id, status: 'stored', seq: 1, receivedAt: RECEIVED_AT },
      { id: makeEntry(2).id, status: 'stored', seq: 2, receivedAt: RECEIVED_AT },
    ]);
  });

  it('chains the hashes of a subject as documented', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1), makeEntry(2));
    const [first, second] = readSubject(store, INSPECTION);
    const expected = sha256Hex(`${FIRST_HASH}\n${RECEIVED_AT}\n${canonicalJson(makeEntry(1))}`);
    expect(first).toMatchObject({ previousHash: FIRST_HASH, hash: expected });
    expect(second?.previousHash).toBe(expected);
    expect(second?.hash).toBe(sha256Hex(`${expected}\n${RECEIVED_AT}\n${canonicalJson(makeEntry(2))}`));
  });

  it('keeps subjects of two sites with the same id in separate chains', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1), makeEntry(2, { site: OTHER_SITE }));
    expect(readSubject(store, { ...INSPECTION, site: OTHER_SITE })[0]?.previousHash).toBe(FIRST_HASH);
  });

  it('answers an entry sent again as already stored, whatever the order of its members', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1, { body: { a: 1, b: { c: 2, d: 3 } } }));
    const again = appendAll(store, makeEntry(1, { body: { b: { d: 3, c: 2 }, a: 1 } }));
    expect(again).toEqual([
      { id: makeEntry(1).id, status: 'already stored', seq: 1, receivedAt: RECEIVED_AT },
    ]);
    expect(readSubject(store, INSPECTION)).toHaveLength(1);
  });

  it('refuses the same id with other content and stores the rest of the batch', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    const outcomes = appendAll(store, makeEntry(1, { body: { text: 'other' } }), makeEntry(2));
    expect(outcomes).toMatchObject([
      { status: 'refused', problem: { code: 'id-conflict', field: 'id' } },
      { status: 'stored', seq: 2 },
    ]);
    expect(readSubject(store, INSPECTION)[0]?.body).toEqual(makeEntry(1).body);
  });

  it('takes the same entry twice within one batch once', () => {
    const store = temporaryStore();
    expect(appendAll(store, makeEntry(1), makeEntry(1)).map((one) => one.status)).toEqual([
      'stored',
      'already stored',
    ]);
  });

  it('shows acceptance the entries before, those of the same batch included', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    const seen: number[] = [];
    append(store, [makeEntry(2), makeEntry(3)], {
      ...options,
      accept: (entry, read) => {
        seen.push(read('inspection', entry.subject.id).length);
        return { ok: true, value: undefined };
      },
    });
    expect(seen).toEqual([1, 2]);
  });

  it('leaves no trace of a refused entry', () => {
    const store = temporaryStore();
    const why = problem('closed', '', '', 'Closed', 'Open it');
    const refused = append(store, [makeEntry(1)], { ...options, accept: () => fail(why) });
    expect(refused).toEqual([{ id: makeEntry(1).id, status: 'refused', problem: why }]);
    expect(readLog(store, { site: SITE, after: 0, limit: 10 }).entries).toEqual([]);
  });

  it('writes nothing when projecting fails in the middle', () => {
    const store = temporaryStore();
    expect(() =>
      append(store, [makeEntry(1)], {
        ...options,
        project: () => {
          throw new Error('a bug');
        },
      }),
    ).toThrow('a bug');
    expect(readLog(store, { site: SITE, after: 0, limit: 10 }).entries).toEqual([]);
    expect(appendAll(store, makeEntry(2))).toMatchObject([{ status: 'stored', seq: 1 }]);
  });

  it('gives back bodies with any text as they were sent', () => {
    const store = temporaryStore();
    const body = { text: 'ü ≥ 😀 \u0000 "quoted" \\ \ud800', deep: [{ n: 0.1 }, null, -1e-7], '': true };
    appendAll(store, makeEntry(1, { body }));
    expect(readSubject(store, INSPECTION)[0]?.body).toEqual(body);
  });
});

describe('projections', () => {
  it('rebuilt from the entries equal those kept live', () => {
    const store = temporaryStore();
    for (let n = 0; n < 40; n += 1) {
      const type = n % 5 === 0 ? 'component' : 'inspection';
      appendAll(
        store,
        makeEntry(n, {
          subject: { type, id: inspectionId(n % 7) },
          kind: n % 11 === 0 ? 'submit' : 'note',
          site: n % 2 === 0 ? SITE : OTHER_SITE,
          body: n % 3 === 0 ? { text: 'no wheel' } : { wheel: n % 4 === 0 ? WHEEL : inspectionId(99) },
        }),
      );
    }
    const dump = () => ({
      links: store.all(
        store.build.selectFrom('subject_link').selectAll().orderBy('subject_id').orderBy('site'),
      ),
      lines: store.all(
        store.build.selectFrom('projection_inspection').selectAll().orderBy('id').orderBy('site'),
      ),
    });
    const live = dump();
    expect(live.lines.length).toBeGreaterThan(5);
    expect(live.links.length).toBeGreaterThan(5);
    store.sqlite.exec(
      "UPDATE projection_inspection SET danger = 999; DELETE FROM subject_link WHERE wheel > '3'",
    );
    expect(dump()).not.toEqual(live);
    rebuildProjections(store, project);
    expect(dump()).toEqual(live);
  });
});
