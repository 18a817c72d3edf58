import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { characteristicOf } from '../../lib/readings/index.ts';
import { classUnder } from '../../lib/rules/classUnder.ts';
import { CLASSES, findWorseButMilder, worstClass } from '../../lib/rules/index.ts';
import { contextOf, judgeLimits } from '../../lib/rules/limits.ts';
import type { LimitRow, Table } from '../../lib/tolerances/index.ts';
import { reading, tableOf, testSource } from '../support/evidence.ts';
import { limit } from './lintRows.ts';

const part = {
  componentKind: 'rim base',
  maker: 'A',
  series: 'B',
  construction: 'five-piece',
  diameterCode: 25,
} as const;
const ban = { row: 'ban', type: 'no rework', says: 'No heat.', source: testSource };

/** Values judged while a table is searched. */
function judged(table: Table): number {
  let count = 0;
  findWorseButMilder(table, (...args) => {
    const classOf = classUnder(...args);
    return (value, u) => {
      count += 1;
      return classOf(value, u);
    };
  });
  return count;
}

const deep = (i: number, over: object = {}) =>
  limit({ row: `row ${i}`, keep: { min: 10 + i / 100 }, repair: { min: 8 + i / 100 }, ...over });
const many = (count: number, row: (i: number) => object) =>
  tableOf(Array.from({ length: count }, (_, i) => row(i)));

describe('the work of the search for a worse reading with a milder verdict', () => {
  test.each([
    ['rows that all decide at one place', (i: number) => deep(i)],
    ['rows none of which is as strict as another', (i: number) => deep(i, { repair: { min: 8 - i / 100 } })],
    ['rows that all decide at many places', (i: number) => deep(i, pits(i))],
    [
      'rows of one diameter each',
      (i: number) => deep(i, { diameterCodes: { min: 24 + (i % 40), max: 24 + (i % 40) } }),
    ],
  ])('grows as the number of rows does: %s', (_, row) => {
    const [few, fourTimes] = [judged(many(50, row)), judged(many(200, row))];
    expect(few).toBeGreaterThan(0);
    expect(fourTimes / few).toBeLessThan(8);
  });

  test('is done once where the same rows decide', () => {
    const [one, everywhere] = [
      judged(tableOf([limit({ ...pits(0), zones: ['ring body'] })])),
      judged(tableOf([limit(pits(0))])),
    ];
    expect(everywhere).toBe(one);
  });
});

const pits = (i: number) => ({
  components: undefined,
  characteristic: 'pitting depth',
  keep: { max: 1 + i / 100 },
  repair: { max: 2 + i / 100 },
});

/** Bounds of a gutter depth, some on the wrong side, few enough that random rows agree and disagree. */
const bounds = fc
  .tuple(
    fc.constantFrom('min', 'max', 'both'),
    fc.integer({ min: 5, max: 20 }),
    fc.integer({ min: 0, max: 12 }),
  )
  .map(([ends, low, width]) => ({
    ...(ends === 'max' ? {} : { min: low }),
    ...(ends === 'min' ? {} : { max: low + width }),
  }));
const rows = fc.array(
  fc.record({
    keep: bounds,
    more: fc.option(fc.integer({ min: 0, max: 3 })),
    repairNeeds: fc.constantFrom('rework', 'upkeep'),
    methods: fc.constantFrom(['gauge'], ['photo'], ['gauge', 'photo']),
  }),
  { minLength: 1, maxLength: 4 },
);
const randomTable = fc
  .tuple(rows, fc.boolean(), fc.constantFrom('guarded', 'simple acceptance'))
  .map(([list, banned, rule]) => {
    const limits = list.map(({ keep, more, ...rest }, i) => {
      const repair = {
        ...(keep.min === undefined ? {} : { min: keep.min - (more ?? 0) }),
        ...(keep.max === undefined ? {} : { max: keep.max + (more ?? 0) }),
      };
      return limit({ row: `${i}`, keep, repair: more === null ? null : repair, ...rest });
    });
    return tableOf(banned ? [...limits, ban] : limits, { decision: { rule, risk: 0.05 } });
  });

/** The class of a reading by the whole engine; null where no row accepts its method. */
function classOf(table: Table, method: 'gauge' | 'photo', valueMm: number, uMm: number) {
  const context = contextOf([table], part, '2020-01-01');
  return worstClass(judgeLimits([reading({ valueMm, uMm, method })], context).findings);
}

/** Whether a lower gutter depth gets a milder class than a higher one, by trying very many. */
function slowly(table: Table): boolean {
  const { plausible } = characteristicOf('gutter depth');
  const span = plausible.max - plausible.min;
  return (['gauge', 'photo'] as const).some((method) =>
    [0, span / 200].some((u) => {
      const values = Array.from({ length: 161 }, (_, i) => i / 4);
      const severity = values.map((value) => {
        const one = classOf(table, method, value, u);
        return one === null ? -1 : CLASSES.indexOf(one);
      });
      return severity.some((one, i) => i > 0 && one > (severity[i - 1] ?? 0));
    }),
  );
}

describe('the search itself', () => {
  test('finds what trying very many values with the whole engine finds', () => {
    const outcomes = new Set<boolean>();
    fc.assert(
      fc.property(randomTable, (table) => {
        const found = findWorseButMilder(table).length > 0;
        outcomes.add(found);
        expect(found).toBe(slowly(table));
      }),
      { numRuns: 60 },
    );
    expect(outcomes.size).toBe(2);
  });

  test('judges a value as the finding of a reading does', () => {
    fc.assert(
      fc.property(
        randomTable,
        fc.double({ min: 3, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (table, value, u) => {
          const context = contextOf([table], part, '2020-01-01');
          for (const method of ['gauge', 'photo'] as const) {
            const accepting = table.rows.filter(
              (row): row is LimitRow => row.type === 'limit' && row.methods.includes(method),
            );
            const classes = judgeLimits([reading({ valueMm: value, uMm: u, method })], context).findings;
            expect(accepting.map((row) => classUnder({ table, row }, context.noRework)(value, u))).toEqual(
              classes.map((one) => one.class),
            );
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  test('names the row that is too severe to the better reading', () => {
    const wrong = limit({ row: 'second', keep: { max: 12 }, repair: null });
    expect(
      findWorseButMilder(tableOf([limit(), wrong])).map(({ rows: names, field }) => [...names, field]),
    ).toEqual([['second', 'rows.1']]);
  });
});
