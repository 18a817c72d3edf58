import { describe, expect, test } from 'vitest';
import { type Entry, kinds } from '../../lib/record/index.ts';
import {
  bundledTables,
  editionInForce,
  foldTables,
  tableHash,
  tablesInForce,
} from '../../lib/tolerances/index.ts';
import { at, entry, SITE, thing } from '../support/entries.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const row = { row: 'depth', type: 'limit', characteristic: 'gutter depth', repair: null, methods: ['gauge'] };
const table = (edition: string, over: object = {}) =>
  tableOf([{ ...row, keep: { min: 10 }, source: testSource }], {
    table: 'own',
    edition,
    effectiveFrom: '2026-01-01',
    ...over,
  });
type Content = ReturnType<typeof table>;

/** Milliseconds of a moment, as the entries of tests count them. */
const ms = (moment: string) => Date.parse(moment) - Date.parse(at(0));
const noon = (day: string) => `${day}T12:00:00.000Z`;
const drafted = (content: object, moment: string, subject = thing(40), over: object = {}) =>
  entry(
    kinds.tableDrafted,
    subject,
    { content: { ...content }, base: null, note: 'as measured' },
    { ms: ms(moment), author: 'lead', ...over },
  );
const approved = (content: Content, moment: string, subject = thing(40), author = 'second') =>
  entry(kinds.tableApproved, subject, { hash: tableHash(content), note: 'seen' }, { ms: ms(moment), author });
const withdrawn = (moment: string, subject = thing(40), reason = 'wrong') =>
  entry(kinds.tableWithdrawn, subject, { reason }, { ms: ms(moment), author: 'lead' });
const inForce = (content: Content, from: string, subject = thing(40)) => [
  drafted(content, from, subject),
  approved(content, from, subject),
];
const editionAt = (entries: readonly Entry[], moment: string) =>
  editionInForce('own', foldTables(entries).tables, moment)?.table.edition ?? null;
const answer = (entries: readonly Entry[], moment: string) => {
  const { tables, without } = tablesInForce(['own'], foldTables(entries).tables, moment);
  return { editions: tables.map(({ edition }) => edition), without };
};

describe('tables folded', () => {
  const first = table('1');

  test('say who wrote, approved and withdrew them, when and with what words', () => {
    const entries = [...inForce(first, noon('2026-02-01')), withdrawn(noon('2026-03-01'))];
    expect(foldTables(entries).tables).toEqual([
      {
        id: thing(40),
        state: 'withdrawn',
        table: first,
        hash: tableHash(first),
        drafts: [
          {
            author: 'lead',
            at: noon('2026-02-01'),
            note: 'as measured',
            hash: tableHash(first),
            table: first,
          },
        ],
        approved: { author: 'second', at: noon('2026-02-01'), note: 'seen' },
        withdrawn: { author: 'lead', at: noon('2026-03-01'), note: 'wrong' },
      },
    ]);
  });

  test('count the first approval and the first withdrawal, each by whoever comes first', () => {
    const entries = [
      drafted(first, noon('2026-02-01')),
      approved(first, noon('2026-02-03'), thing(40), 'third'),
      approved(first, noon('2026-02-02')),
      withdrawn(noon('2026-03-02'), thing(40), 'later'),
      withdrawn(noon('2026-03-01')),
    ];
    expect(foldTables(entries).tables).toMatchObject([
      { approved: { author: 'second', at: noon('2026-02-02') }, withdrawn: { note: 'wrong' } },
    ]);
  });

  test('pass over an approval by an author or of another content, and count the next', () => {
    const entries = [
      drafted(first, noon('2026-02-01')),
      approved(first, noon('2026-02-02'), thing(40), 'lead'),
      approved(table('another'), noon('2026-02-03'), thing(40), 'third'),
      approved(first, noon('2026-02-04')),
    ];
    expect(foldTables(entries).tables).toMatchObject([{ approved: { at: noon('2026-02-04') } }]);
  });

  test('are none without a draft, nor in entries about anything else', () => {
    expect(foldTables([approved(first, noon('2026-02-02')), withdrawn(noon('2026-02-03'))])).toEqual({
      tables: [],
      unreadable: [],
    });
    const registered = entry(kinds.siteDescribed, SITE, {
      name: 'Quarry',
      tables: [],
      keepLocation: false,
      demonstration: false,
    });
    expect(foldTables([registered])).toEqual({ tables: [], unreadable: [] });
    expect(foldTables([registered, drafted(first, noon('2026-02-01'))]).tables).toHaveLength(1);
  });

  test('come by name, then by first day, then by id', () => {
    const drafts = [
      drafted(table('d', { table: 'b' }), noon('2026-02-01'), thing(44)),
      drafted(table('c', { effectiveFrom: '2026-05-01' }), noon('2026-02-01'), thing(41)),
      drafted(table('b'), noon('2026-02-01'), thing(43)),
      drafted(table('a'), noon('2026-02-01'), thing(42)),
      drafted(table('0', { table: 'a', effectiveFrom: '2030-01-01' }), noon('2026-02-01'), thing(45)),
    ];
    expect(foldTables(drafts).tables.map((one) => one.table.edition)).toEqual(['0', 'd', 'a', 'b', 'c']);
    expect(foldTables([...drafts].reverse()).tables.map((one) => one.table.edition)).toEqual([
      '0',
      'd',
      'a',
      'b',
      'c',
    ]);
  });

  test('that cannot be read name every name once, beside those that can', () => {
    const entries = [
      drafted({ ...first, rows: [] }, noon('2026-02-01')),
      drafted({ ...first, title: '' }, noon('2026-02-02')),
      drafted({ ...first, table: 'x', title: '' }, noon('2026-02-03')),
      drafted({ table: 7 }, noon('2026-02-04')),
      drafted(first, noon('2026-02-01'), thing(41)),
    ];
    const { tables, unreadable } = foldTables(entries);
    expect(tables.map(({ id }) => id)).toEqual([thing(41)]);
    expect(unreadable.map(({ id, names }) => [id, names])).toEqual([[thing(40), ['own', 'x', '']]]);
    expect(unreadable[0]?.problems.map(({ field }) => field).slice(0, 3)).toEqual(['rows', 'title', 'title']);
  });

  test.each([
    ['nothing', null],
    ['a text', 'own'],
    ['a list', []],
  ])('written by a newer version with %s for content have no name to be read', (_, content) => {
    const newer = { ...drafted(first, noon('2026-02-01')), v: 99, body: { content } };
    expect(foldTables([newer]).unreadable).toEqual([{ id: thing(40), names: [''], problems: [] }]);
  });
});

describe('an edition counts', () => {
  const first = table('1');

  test('from the moment of its approval, that moment too', () => {
    const entries = inForce(first, '2026-02-01T12:00:00.500Z');
    expect(editionAt(entries, '2026-02-01T12:00:00.499Z')).toBeNull();
    expect(editionAt(entries, '2026-02-01T12:00:00.500Z')).toBe('1');
  });

  test('until the moment of its withdrawal, that moment no more', () => {
    const entries = [...inForce(first, noon('2026-02-01')), withdrawn('2026-03-01T12:00:00.500Z')];
    expect(editionAt(entries, '2026-03-01T12:00:00.499Z')).toBe('1');
    expect(editionAt(entries, '2026-03-01T12:00:00.500Z')).toBeNull();
  });

  test('from the beginning of its first day to the end of its last', () => {
    const days = table('2', { effectiveFrom: '2026-03-01', effectiveUntil: '2026-03-01' });
    const entries = inForce(days, noon('2026-02-01'));
    expect(editionAt(entries, '2026-02-28T23:59:59.999Z')).toBeNull();
    expect(editionAt(entries, '2026-03-01T00:00:00.000Z')).toBe('2');
    expect(editionAt(entries, '2026-03-01T23:59:59.999Z')).toBe('2');
    expect(editionAt(entries, '2026-03-02T00:00:00.000Z')).toBeNull();
  });

  test('only under its own name', () => {
    const { tables } = foldTables(inForce(first, noon('2026-02-01')));
    expect(editionInForce('Own', tables, noon('2026-03-01'))).toBeNull();
    expect(editionInForce('own', tables, noon('2026-03-01'))?.id).toBe(thing(40));
  });

  test('withdrawn on its first day has begun: no earlier one comes back', () => {
    const second = table('2', { effectiveFrom: '2026-06-01' });
    const both = [...inForce(first, noon('2026-02-01')), ...inForce(second, noon('2026-02-02'), thing(41))];
    const onItsDay = [...both, withdrawn('2026-06-01T00:00:00.000Z', thing(41))];
    expect(editionAt(onItsDay, noon('2026-06-01'))).toBeNull();
    const before = [...both, withdrawn('2026-05-31T23:59:59.999Z', thing(41))];
    expect(editionAt(before, noon('2026-06-01'))).toBe('1');
  });

  test('before others of one first day by its approval, and by its id where that is the same too', () => {
    const twins = (one: string, other: string) => [
      ...inForce(table('a'), one, thing(41)),
      ...inForce(table('b'), other, thing(42)),
    ];
    expect(editionAt(twins(noon('2026-02-02'), noon('2026-02-01')), noon('2026-03-01'))).toBe('a');
    expect(editionAt(twins(noon('2026-02-01'), noon('2026-02-02')), noon('2026-03-01'))).toBe('b');
    expect(editionAt(twins(noon('2026-02-01'), noon('2026-02-01')), noon('2026-03-01'))).toBe('b');
  });

  test('by its first day, though an earlier one was approved later', () => {
    const second = table('2', { effectiveFrom: '2026-02-15' });
    const entries = [
      ...inForce(second, noon('2026-02-01'), thing(41)),
      ...inForce(first, noon('2026-02-20')),
    ];
    expect(editionAt(entries, noon('2026-03-01'))).toBe('2');
  });
});

describe('a name in force without an edition', () => {
  const coming = table('1', { effectiveFrom: '2026-06-01' });

  test('is told, unless its first edition is approved and yet to come', () => {
    expect(answer([], noon('2026-05-01'))).toEqual({ editions: [], without: ['own'] });
    const entries = inForce(coming, noon('2026-04-01'));
    expect(answer(entries, noon('2026-03-31'))).toEqual({ editions: [], without: ['own'] });
    expect(answer(entries, noon('2026-05-31'))).toEqual({ editions: [], without: [] });
    expect(answer(entries, noon('2026-06-01'))).toEqual({ editions: ['1'], without: [] });
  });

  test('is told where an earlier edition has ended before the next begins', () => {
    const ended = table('0', { effectiveUntil: '2026-04-30' });
    const entries = [
      ...inForce(ended, noon('2026-02-01')),
      ...inForce(coming, noon('2026-04-01'), thing(41)),
    ];
    expect(answer(entries, noon('2026-04-30'))).toEqual({ editions: ['0'], without: [] });
    expect(answer(entries, noon('2026-05-01'))).toEqual({ editions: [], without: ['own'] });
    expect(answer(entries, noon('2026-06-01'))).toEqual({ editions: ['1'], without: [] });
  });

  test('is none of another name, whatever is yet to come under that', () => {
    const other = table('x', { table: 'other', effectiveFrom: '2026-06-01' });
    expect(answer(inForce(other, noon('2026-02-01')), noon('2026-05-01')).without).toEqual(['own']);
  });

  test('is never one that comes with the program, which no edition on file takes the place of', () => {
    const [rules] = bundledTables;
    const name = rules?.table ?? '';
    const { tables } = foldTables(inForce(table('mine', { table: name }), noon('2026-02-01')));
    expect(tablesInForce([name], tables, noon('2026-03-01'))).toEqual({ tables: [rules], without: [] });
  });
});
