import { describe, expect, test } from 'vitest';
import {
  brokenLinks,
  chainHash,
  type Entry,
  FIRST_HASH,
  kinds,
  linkOf,
  type Names,
  type StoredEntry,
  trailOf,
} from '../../lib/record/index.ts';
import { at, BASE, depthBody, entry, INSPECTION, thing, WHEEL } from '../support/entries.ts';

const names: Names = {
  person: (id) => id,
  component: () => 'rim base',
  wheel: () => 'a wheel',
  instrument: () => 'a gauge',
};
const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
const reading = entry(kinds.readingEntered, INSPECTION, depthBody(thing(80), BASE, 11.9));
const corrected = entry(kinds.readingCorrected, INSPECTION, depthBody(thing(80), BASE, 11.4));
const withdrawn = entry(kinds.readingWithdrawn, INSPECTION, { reading: thing(80), reason: 'slip' });
const called = entry(kinds.callMade, INSPECTION, { component: BASE, call: 'keep', reason: '' });
const again = entry(kinds.callMade, INSPECTION, { component: BASE, call: 'scrap', reason: 'crack' });
const submitted = entry(kinds.inspectionSubmitted, INSPECTION, { covers: [opened.id], verdict: {} });
const own = (call: 'keep' | 'repair', author: string) =>
  entry(
    kinds.secondMeasured,
    INSPECTION,
    { of: 'call made', v: 1, body: { component: BASE, call, reason: '' }, seenIn: null },
    { author },
  );
const all = [opened, reading, corrected, withdrawn, called, again, submitted];
const changes = (entries: readonly Entry[]) =>
  trailOf(entries, names).map(({ kind, from, to }) => [kind, from, to]);

describe('everything that was done to an inspection, in lines', () => {
  test('a line says what an entry changed: from what, to what', () => {
    expect(changes(all)).toEqual([
      ['inspection opened', null, null],
      ['reading entered', null, null],
      ['reading corrected', '11.9 mm', '11.4 mm'],
      ['reading withdrawn', '11.4 mm', 'withdrawn'],
      ['call made', null, null],
      ['call made', 'keep', 'scrap'],
      ['inspection submitted', 'open', 'asked'],
    ]);
  });

  test('the order in which the entries arrive, and repetition, do not matter', () => {
    expect(changes([...all, ...all].reverse())).toEqual(changes(all));
  });

  test('a second measurement changes its own values, not the inspector’s, nor another reviewer’s', () => {
    const lines = changes([...all, own('keep', 'rey'), own('repair', 'ria'), own('repair', 'rey')]);
    expect(lines.slice(-3)).toEqual([
      ['measured again', null, null],
      ['measured again', null, null],
      ['measured again', 'keep', 'repair'],
    ]);
    expect(trailOf([opened, own('keep', 'rey')], names).at(-1)?.text).toBe(
      'Second measurement: Called rim base: keep',
    );
  });

  test('an entry of a newer version is a line too', () => {
    const newer = { ...called, id: again.id, kind: 'measured by ear', v: 3 };
    expect(trailOf([opened, newer], names).at(-1)?.text).toContain('not readable by this version');
  });
});

describe('the chain of an inspection, followed on a screen', () => {
  const stored: StoredEntry[] = [];
  for (const one of all) {
    const previousHash = stored.at(-1)?.hash ?? FIRST_HASH;
    const receivedAt = at(1_000_000 + stored.length);
    const hash = chainHash(previousHash, receivedAt, one);
    stored.push({ ...one, receivedAt, seq: stored.length + 1, previousHash, hash });
  }
  const head = { entries: stored.length, hash: stored.at(-1)?.hash ?? '' };
  const faults = (entries: readonly StoredEntry[], end = head) =>
    brokenLinks(entries.map(linkOf), end).map(({ fault, seq }) => [fault, seq]);
  const swap = (i: number, j: number) => {
    const moved = [...stored];
    [moved[i], moved[j]] = [moved[j] as StoredEntry, moved[i] as StoredEntry];
    return moved;
  };

  test('is whole as it was stored', () => {
    expect(faults(stored)).toEqual([]);
  });

  const rows: [name: string, entries: StoredEntry[], fault: string, seq: number][] = [
    [
      'a changed body shows at its place',
      stored.map((one) => (one.seq === 3 ? { ...one, body: { ...one.body, typed: '14' } } : one)),
      'changed',
      3,
    ],
    [
      'a changed time of arrival shows at its place',
      stored.map((one) => (one.seq === 2 ? { ...one, receivedAt: at(5) } : one)),
      'changed',
      2,
    ],
    ['an entry taken out shows at the one after it', stored.filter(({ seq }) => seq !== 4), 'missing', 5],
    ['a cut end shows against the recorded length', stored.slice(0, -1), 'missing', stored.length - 1],
    ['entries put elsewhere show', swap(2, 3), 'reordered', 4],
  ];
  test.each(rows)('%s', (_name, entries, fault, seq) => {
    expect(faults(entries)).toContainEqual([fault, seq]);
  });

  test('another end than the recorded one shows even where every link fits', () => {
    expect(faults(stored, { ...head, hash: FIRST_HASH })).toEqual([['changed', stored.length]]);
  });
});
