import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Entry, kinds } from '../../lib/record/index.ts';
import {
  bundledTables,
  editionInForce,
  foldTables,
  tableHash,
  tablesInForce,
} from '../../lib/tolerances/index.ts';
import { at, entry, thing } from '../support/entries.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const TABLE = thing(40);
const limit = (min: number) => ({
  row: 'depth',
  type: 'limit',
  characteristic: 'gutter depth',
  keep: { min },
  repair: null,
  methods: ['gauge'],
  source: testSource,
});
const edition = (name: string, min: number, over: object = {}) =>
  tableOf([limit(min)], { table: 'own', edition: name, effectiveFrom: '2026-01-01', ...over });

const drafted = (content: object, ms: number, author = 'lead', subject = TABLE) =>
  entry(kinds.tableDrafted, subject, { content: { ...content }, base: null, note: '' }, { ms, author });
const approved = (content: ReturnType<typeof edition>, ms: number, author = 'second', subject = TABLE) =>
  entry(kinds.tableApproved, subject, { hash: tableHash(content), note: 'seen' }, { ms, author });
const withdrawn = (ms: number, subject = TABLE) =>
  entry(kinds.tableWithdrawn, subject, { reason: 'wrong' }, { ms, author: 'lead' });

const first = edition('1', 10);
const stateOf = (entries: readonly Entry[]) => must(foldTables(entries).tables[0], 'a table');

describe('a table in the record', () => {
  test('is a draft until somebody else approves it', () => {
    expect(stateOf([drafted(first, 0)])).toMatchObject({ state: 'draft', approved: null, table: first });
    expect(stateOf([drafted(first, 0), approved(first, 10)])).toMatchObject({
      state: 'approved',
      approved: { author: 'second', note: 'seen' },
    });
  });

  test('is not approved by anyone who wrote a draft of it', () => {
    const own = [drafted(first, 0), approved(first, 10, 'lead')];
    expect(stateOf(own).state).toBe('draft');
    const helped = [drafted(first, 0), drafted(edition('1', 11), 5, 'second'), approved(first, 10)];
    expect(stateOf(helped).state).toBe('draft');
  });

  test('is not approved by a word on a content that nobody wrote', () => {
    expect(stateOf([drafted(first, 0), approved(edition('1', 99), 10)]).state).toBe('draft');
  });

  test('keeps the content that was approved, whatever is written later or dated otherwise', () => {
    const later = edition('1', 12);
    const entries = [drafted(first, 0), approved(first, 10), drafted(later, 20)];
    expect(stateOf(entries)).toMatchObject({ state: 'approved', table: first, hash: tableHash(first) });
    expect(stateOf([approved(first, 0), drafted(first, 10)]).state).toBe('approved');
  });

  test('shows every content with who wrote it, the newest being the draft', () => {
    const second = edition('1', 12);
    const draft = stateOf([drafted(second, 10), drafted(first, 0)]);
    expect(draft.table).toEqual(second);
    expect(draft.drafts.map((one) => [one.at, one.hash])).toEqual([
      [at(0), tableHash(first)],
      [at(10), tableHash(second)],
    ]);
  });

  test('stays on file when it is withdrawn, approved or not', () => {
    expect(stateOf([drafted(first, 0), withdrawn(10)]).state).toBe('withdrawn');
    expect(stateOf([drafted(first, 0), approved(first, 5), withdrawn(10)])).toMatchObject({
      state: 'withdrawn',
      approved: { at: at(5) },
      withdrawn: { at: at(10), note: 'wrong' },
    });
  });

  test('that cannot be read is listed with its problems and never dropped', () => {
    const { tables, unreadable } = foldTables([drafted({ ...first, rows: [] }, 0)]);
    expect(tables).toEqual([]);
    expect(unreadable).toMatchObject([{ id: TABLE, names: ['own'], problems: [{ field: 'rows' }] }]);
  });

  test('of which a newer version wrote anything is not read in part, under any of its names', () => {
    const newer = { ...drafted({ table: 'other name' }, 5), v: 99 };
    expect(foldTables([drafted(first, 0), approved(first, 1), newer])).toEqual({
      tables: [],
      unreadable: [{ id: TABLE, names: ['own', 'other name'], problems: [] }],
    });
    const taken = { ...withdrawn(5), v: 99 };
    expect(foldTables([drafted(first, 0), approved(first, 1), taken]).unreadable).toMatchObject([
      { names: ['own'] },
    ]);
    expect(foldTables([taken]).unreadable).toMatchObject([{ names: [''] }]);
    const nameless = { ...drafted({}, 5), v: 99, body: { text: 'new' } };
    expect(foldTables([nameless]).unreadable).toMatchObject([{ names: [''] }]);
  });

  test('is read once where what was read is given again', () => {
    const entries = [drafted(first, 0), drafted({ ...first, rows: [] }, 1, 'lead', thing(41))];
    const read = new Map();
    const folded = foldTables(entries, read);
    expect([...read.keys()].sort()).toEqual(entries.map((one) => one.id).sort());
    const [known] = folded.tables;
    expect(foldTables(entries, read)).toEqual(folded);
    expect(foldTables(entries, read).tables[0]?.table).toBe(known?.table);
  });

  test('folds to the same whatever the order and the repetition of the entries', () => {
    const entries = [
      drafted(first, 0),
      drafted(edition('1', 11), 1),
      approved(edition('1', 11), 2),
      drafted(edition('2', 9, { effectiveFrom: '2027-01-01' }), 3, 'lead', thing(41)),
      withdrawn(4),
    ];
    const folded = foldTables(entries);
    fc.assert(
      fc.property(fc.shuffledSubarray([...entries, ...entries], { minLength: 10 }), (shuffled) => {
        expect(foldTables(shuffled)).toEqual(folded);
      }),
    );
  });
});

describe('tables in force', () => {
  const day = (date: string) => Date.parse(`${date}T12:00:00.000Z`) - Date.parse(at(0));
  const moment = (date: string) => `${date}T12:00:00.000Z`;
  const second = edition('2', 11, { effectiveFrom: '2027-01-01' });
  const entries = [
    drafted(first, day('2025-12-01')),
    approved(first, day('2025-12-02')),
    drafted(second, day('2026-06-01'), 'lead', thing(41)),
    approved(second, day('2026-06-02'), 'second', thing(41)),
  ];
  const editionsAt = (date: string, list: readonly Entry[] = entries) =>
    tablesInForce(['own'], foldTables(list).tables, moment(date)).tables.map((one) => one.edition);

  test('begin on their first day, and the later edition supersedes the earlier from its own', () => {
    expect(editionsAt('2025-12-31')).toEqual([]);
    expect(editionsAt('2026-01-01')).toEqual(['1']);
    expect(editionsAt('2026-12-31')).toEqual(['1']);
    expect(editionsAt('2027-01-01')).toEqual(['2']);
  });

  test('begin with their approval where that is later, so that nothing decided before changes', () => {
    const late = [drafted(first, day('2026-03-01')), approved(first, day('2026-03-10'))];
    expect(editionsAt('2026-03-09', late)).toEqual([]);
    expect(editionsAt('2026-03-10', late)).toEqual(['1']);
  });

  test('end with their withdrawal, and no earlier edition comes back by it: nothing is kept until another is approved', () => {
    const taken = [...entries, withdrawn(day('2027-02-01'), thing(41))];
    expect(editionsAt('2027-01-31', taken)).toEqual(['2']);
    expect(editionsAt('2027-02-01', taken)).toEqual([]);
    const { without } = tablesInForce(['own'], foldTables(taken).tables, moment('2027-02-01'));
    expect(without).toEqual(['own']);
    const third = edition('3', 12, { effectiveFrom: '2027-02-01' });
    const again = [
      ...taken,
      drafted(third, day('2027-02-02'), 'lead', thing(42)),
      approved(third, day('2027-02-03'), 'second', thing(42)),
    ];
    expect(editionsAt('2027-02-04', again)).toEqual(['3']);
  });

  test('withdrawn before their first day never begin, and the edition before goes on', () => {
    const taken = [...entries, withdrawn(day('2026-12-31'), thing(41))];
    expect(editionsAt('2027-01-01', taken)).toEqual(['1']);
  });

  test('end with their last day, and an edition without an end counts again', () => {
    const spring = edition('spring', 12, { effectiveFrom: '2026-03-01', effectiveUntil: '2026-05-31' });
    const list = [
      ...entries,
      drafted(spring, day('2026-02-01'), 'lead', thing(42)),
      approved(spring, day('2026-02-02'), 'second', thing(42)),
    ];
    expect(editionsAt('2026-02-28', list)).toEqual(['1']);
    expect(editionsAt('2026-03-01', list)).toEqual(['spring']);
    expect(editionsAt('2026-05-31', list)).toEqual(['spring']);
    expect(editionsAt('2026-06-01', list)).toEqual(['1']);
    const alone = [drafted(spring, day('2026-02-01')), approved(spring, day('2026-02-02'))];
    const withoutAt = (date: string) =>
      tablesInForce(['own'], foldTables(alone).tables, moment(date)).without;
    expect(withoutAt('2026-05-31')).toEqual([]);
    expect(withoutAt('2026-06-01')).toEqual(['own']);
  });

  test('of which the first edition is yet to come hold nothing until then', () => {
    const coming = [drafted(first, day('2025-12-01')), approved(first, day('2025-12-02'))];
    const at2025 = (list: readonly Entry[]) =>
      tablesInForce(['own'], foldTables(list).tables, moment('2025-12-15'));
    expect(at2025(coming)).toEqual({ tables: [], without: [] });
    expect(at2025(coming.slice(0, 1)).without).toEqual(['own']);
    expect(at2025([...coming, withdrawn(day('2025-12-10'))]).without).toEqual(['own']);
  });

  test('of two editions with one first day are the one approved later', () => {
    const twin = edition('1a', 12);
    const list = [
      ...entries,
      drafted(twin, day('2026-02-01'), 'lead', thing(42)),
      approved(twin, day('2026-02-02'), 'second', thing(42)),
    ];
    expect(editionsAt('2026-02-01', list)).toEqual(['1']);
    expect(editionsAt('2026-02-03', list)).toEqual(['1a']);
  });

  test('come in the order of the names; a name without an edition in force is told', () => {
    const [rules] = bundledTables;
    const { tables, without } = tablesInForce(
      ['own', 'nobody', must(rules, 'a bundled table').table],
      foldTables(entries).tables,
      moment('2026-05-01'),
    );
    expect(tables.map((one) => one.table)).toEqual(['own', rules?.table]);
    expect(without).toEqual(['nobody']);
  });

  test('are never drafts', () => {
    const { tables } = foldTables([drafted(first, day('2025-12-01'))]);
    expect(editionInForce('own', tables, moment('2026-05-01'))).toBeNull();
  });
});
