import { describe, expect, test } from 'vitest';
import {
  bundledTables,
  isDemonstration,
  matchRowsFor,
  type PartFacts,
  rowsFor,
  tableApplies,
  tableHash,
  tablesNamed,
} from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { defect, limit, match } from './lintRows.ts';

const part: PartFacts = {
  componentKind: 'rim base',
  maker: 'Maker',
  series: 'S1',
  construction: 'five-piece',
  diameterCode: 51,
};
const day = '2024-06-30';

describe('a table speaks of a part', () => {
  const applies = (over: object, facts: Partial<PartFacts> = {}, on = day) =>
    tableApplies(tableOf([limit()], over), { ...part, ...facts }, on);

  test('when it names nothing', () => {
    expect(applies({})).toBe(true);
    expect(applies({}, { maker: '', series: '', diameterCode: undefined })).toBe(true);
  });

  test('from its first day to its last, both included', () => {
    const effect = { effectiveFrom: '2024-01-01', effectiveUntil: '2024-06-30' };
    expect(
      ['2023-12-31', '2024-01-01', '2024-06-30', '2024-07-01'].map((on) => applies(effect, {}, on)),
    ).toEqual([false, true, true, false]);
    expect(applies({ effectiveFrom: '2024-01-01' }, {}, '2999-01-01')).toBe(true);
  });

  test.each([
    [
      'a maker, whatever its capitals and the white space about it',
      { makers: ['Other', 'MAKER'] },
      { maker: ' maker ' },
    ],
    ['a series', { series: ['s1'] }, { series: 'S1' }],
    ['a construction', { constructions: ['five-piece'] }, { construction: 'five-piece' }],
    ['a component', { components: ['rim base'] }, { componentKind: 'rim base' }],
    ['diameters, the first included', { diameterCodes: { min: 51, max: 57 } }, { diameterCode: 51 }],
    ['diameters, the last included', { diameterCodes: { min: 25, max: 51 } }, { diameterCode: 51 }],
  ] as const)('when it names %s', (_, scope, facts) => {
    expect(applies({ scope }, facts)).toBe(true);
  });

  test.each([
    ['another maker', { makers: ['Other'] }, {}],
    ['a maker, and the part has none known', { makers: ['Maker'] }, { maker: '' }],
    ['another series', { series: ['S2'] }, {}],
    ['another construction', { constructions: ['three-piece'] }, {}],
    ['another component', { components: ['lock ring'] }, {}],
    ['smaller diameters', { diameterCodes: { min: 25, max: 49 } }, {}],
    ['larger diameters', { diameterCodes: { min: 57, max: 63 } }, {}],
    [
      'diameters, and the size is not understood',
      { diameterCodes: { min: 1, max: 99 } },
      { diameterCode: undefined },
    ],
  ] as const)('but not when it names %s', (_, scope, facts) => {
    expect(applies({ scope }, facts)).toBe(false);
  });
});

describe('the rows that speak of a part', () => {
  const tables = [
    tableOf([
      limit({ row: 'any' }),
      defect({ row: 'broken' }),
      limit({ row: 'ring', components: ['lock ring'] }),
    ]),
    tableOf([limit()], { effectiveFrom: '2100-01-01' }),
    tableOf([
      limit({ row: 'large', components: undefined, diameterCodes: { min: 51, max: 63 } }),
      limit({ row: 'larger', diameterCodes: { min: 57, max: 63 } }),
      limit({ row: 'groove', zones: ['gutter groove'] }),
      match({ row: 'pair' }),
    ]),
  ];
  const named = (...args: Parameters<typeof rowsFor>) => rowsFor(...args).map(({ row }) => row.row);

  test('are those of one type in tables that apply, in their order', () => {
    expect(named(tables, 'limit', part, day)).toEqual(['any', 'large', 'groove']);
    expect(named(tables, 'defect', part, day)).toEqual(['broken']);
  });

  test('stand with their table', () => {
    expect(rowsFor(tables, 'limit', part, day).map(({ table }) => tables.indexOf(table))).toEqual([0, 2, 2]);
  });

  test('of a zone are those that name it or none', () => {
    expect(named(tables, 'limit', part, day, 'gutter groove')).toEqual(['any', 'large', 'groove']);
    expect(named(tables, 'limit', part, day, 'gutter lip')).toEqual(['any', 'large']);
  });

  test('never are pairs, which speak of two parts', () => {
    expect(named(tables, 'match', part, day)).toEqual([]);
  });

  test('of a size that is not understood name no size', () => {
    expect(named(tables, 'limit', { ...part, diameterCode: undefined }, day)).toEqual(['any', 'groove']);
  });
});

describe('the rows on which parts go together', () => {
  const wheel = { construction: 'five-piece', diameterCode: 51, on: day } as const;
  const named = (...tables: Parameters<typeof matchRowsFor>[0]) =>
    matchRowsFor(tables, wheel).map(({ row }) => row.row);

  test('are those of the construction, size and day, whatever makers and components the table is for', () => {
    const scope = {
      makers: ['Nobody'],
      series: ['X'],
      components: ['O-ring'],
      constructions: ['five-piece'],
    };
    expect(named(tableOf([match({ row: 'a' }), defect(), match({ row: 'b' })], { scope }))).toEqual([
      'a',
      'b',
    ]);
  });

  test('are not those of another construction, size or day', () => {
    expect(named(tableOf([match()], { scope: { constructions: ['three-piece'] } }))).toEqual([]);
    expect(named(tableOf([match()], { scope: { diameterCodes: { min: 25, max: 49 } } }))).toEqual([]);
    expect(named(tableOf([match()], { effectiveFrom: '2024-07-01' }))).toEqual([]);
    expect(named(tableOf([match({ diameterCodes: { min: 25, max: 49 } })]))).toEqual([]);
    expect(named(tableOf([match({ diameterCodes: { min: 51, max: 51 } })]))).toEqual(['first']);
  });

  test('stand with their table', () => {
    const table = tableOf([match()]);
    expect(matchRowsFor([table], wheel)).toEqual([{ table, row: table.rows[0] }]);
  });
});

describe('a table', () => {
  test('is known by its content, and by that alone', () => {
    const table = tableOf([limit()]);
    expect(tableHash(table)).toMatch(/^[0-9a-f]{64}$/);
    expect(tableHash(structuredClone(table))).toBe(tableHash(table));
    expect(tableHash({ ...table, title: 'Another' })).not.toBe(tableHash(table));
  });

  test('is for demonstration when any of its rows is', () => {
    const real = { ...testSource, kind: 'site' };
    expect(isDemonstration(tableOf([limit({ source: real })]))).toBe(false);
    expect(isDemonstration(tableOf([limit({ source: real }), limit({ row: 'second' })]))).toBe(true);
  });
});

describe('the tables that come with the program', () => {
  test('are these two, and only the invented one is for demonstration', () => {
    expect(bundledTables.map((table) => [table.table, isDemonstration(table)])).toEqual([
      ['29 CFR 1910.177', false],
      ['demonstration-quillmoor', true],
    ]);
  });

  test('are found by their names, in the order asked for; a name that is not known is given back', () => {
    const [rules, invented] = bundledTables;
    expect(tablesNamed(['demonstration-quillmoor', 'none', '29 CFR 1910.177'])).toEqual({
      tables: [invented, rules],
      unknown: ['none'],
    });
    expect(tablesNamed([])).toEqual({ tables: [], unknown: [] });
  });
});
