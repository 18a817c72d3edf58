import { describe, expect, it } from 'vitest';
import { canonicalJson, sha256Hex } from '../../../lib/base/index.ts';
import { chainHash, FIRST_HASH } from '../../../lib/record/index.ts';
import { type Store, verifyChains } from '../../../lib/store/server/index.ts';
import { appendAll, inspectionId, makeEntry, RECEIVED_AT, SITE, temporaryStore } from './support.ts';

const SUBJECT = { site: SITE, type: 'inspection', id: inspectionId(1) } as const;

/** Three entries of one inspection at places 1, 2 and 4, one of another at place 3. */
function filled(): Store {
  const store = temporaryStore();
  appendAll(
    store,
    makeEntry(1),
    makeEntry(2),
    makeEntry(3, { subject: { type: 'inspection', id: inspectionId(2) } }),
    makeEntry(4),
  );
  return store;
}

describe('verifying the chains', () => {
  it('finds nothing in a whole record', () => {
    expect(verifyChains(filled())).toEqual({ entries: 4, subjects: 2, faults: [] });
  });

  it.each([
    ['body', `UPDATE entry SET body = '{"text":"other"}' WHERE seq = 2`],
    ['author', `UPDATE entry SET author = 'bob' WHERE seq = 2`],
    ['device clock', `UPDATE entry SET at = '2020-01-01T00:00:00.000Z' WHERE seq = 2`],
    ['time of arrival', `UPDATE entry SET received_at = '2020-01-01T00:00:00.000Z' WHERE seq = 2`],
    ['body that is no longer JSON', `UPDATE entry SET body = '{' WHERE seq = 2`],
  ])('names an entry whose %s was changed', (_, sql) => {
    const store = filled();
    store.sqlite.exec(sql);
    expect(verifyChains(store).faults).toEqual([
      { subject: SUBJECT, fault: 'changed', seq: 2, entry: makeEntry(2).id },
    ]);
  });

  it('shows a changed entry also when its own hash was computed anew', () => {
    const store = filled();
    const forged = makeEntry(2, { body: { text: 'other' } });
    const previous = chainHash(FIRST_HASH, RECEIVED_AT, makeEntry(1));
    store.sqlite
      .prepare('UPDATE entry SET body = ?, hash = ? WHERE seq = 2')
      .run(canonicalJson(forged.body), chainHash(previous, RECEIVED_AT, forged));
    expect(verifyChains(store).faults).toEqual([
      { subject: SUBJECT, fault: 'missing', seq: 4, entry: makeEntry(4).id },
    ]);
  });

  it('names the entry before which one is missing, and its empty place', () => {
    const store = filled();
    store.sqlite.exec('DELETE FROM entry WHERE seq = 2');
    expect(verifyChains(store).faults).toEqual([
      { subject: SUBJECT, fault: 'missing', seq: 4, entry: makeEntry(4).id },
      { fault: 'missing', seq: 2 },
    ]);
  });

  it('notices that the last entry of a subject is missing', () => {
    const store = filled();
    store.sqlite.exec('DELETE FROM entry WHERE seq = 4');
    expect(verifyChains(store).faults).toEqual([
      { subject: SUBJECT, fault: 'missing', seq: 2 },
      { fault: 'missing', seq: 4 },
    ]);
  });

  it('notices that a whole subject is missing', () => {
    const store = filled();
    store.sqlite.exec('DELETE FROM entry WHERE seq = 3');
    expect(verifyChains(store).faults).toEqual([
      { subject: { ...SUBJECT, id: inspectionId(2) }, fault: 'missing', seq: 0 },
      { fault: 'missing', seq: 3 },
    ]);
  });

  it('tells entries that were put into another order', () => {
    const store = filled();
    store.sqlite.exec(
      'UPDATE entry SET seq = 100 WHERE seq = 1; UPDATE entry SET seq = 1 WHERE seq = 2; UPDATE entry SET seq = 2 WHERE seq = 100',
    );
    const { faults } = verifyChains(store);
    expect(faults.map(({ fault, seq }) => [fault, seq])).toEqual([
      ['reordered', 1],
      ['reordered', 2],
      ['reordered', 4],
    ]);
  });

  it('names an entry that was moved to another subject', () => {
    const store = filled();
    store.sqlite.exec(`UPDATE entry SET subject_id = '${inspectionId(9)}' WHERE seq = 3`);
    expect(verifyChains(store).faults).toContainEqual({
      subject: { ...SUBJECT, id: inspectionId(9) },
      fault: 'changed',
      seq: 3,
      entry: makeEntry(3).id,
    });
  });

  it('notices an entry slipped in with a hash of its own', () => {
    const store = filled();
    const hash = sha256Hex('anything');
    store.sqlite.exec(
      `INSERT INTO entry (id, site, subject_type, subject_id, kind, v, at, author, device, body, received_at, previous_hash, hash)
       SELECT 'forged', site, subject_type, subject_id, kind, v, at, author, device, body, received_at, hash, '${hash}' FROM entry WHERE seq = 4`,
    );
    expect(verifyChains(store).faults).toContainEqual({
      subject: SUBJECT,
      fault: 'changed',
      seq: 5,
      entry: 'forged',
    });
  });
});
