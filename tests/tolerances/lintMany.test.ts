import { describe, expect, test } from 'vitest';
import { type LintFinding, lintTable } from '../../lib/tolerances/index.ts';
import { tableOf } from '../support/evidence.ts';
import { defect, limit, match, pair } from './lintRows.ts';

/** Limits of one place, each a little stricter than the one before. */
const limits = (count: number) =>
  Array.from({ length: count }, (_, i) =>
    limit({ row: `row ${i}`, keep: { min: 10 + i / 100 }, repair: null }),
  );
const found = (rows: object[]) => lintTable(tableOf(rows));
const ofPairs = (findings: readonly LintFinding[]) => findings.filter(({ rows }) => rows.length === 2);
const more = (count: number): LintFinding => ({
  lint: 'more',
  severity: 'warning',
  rows: [],
  field: 'rows',
  message: `${count} more findings about two rows are not told`,
  wayOut: 'Put right what is told, then look through the table again.',
});

describe('what is told of many rows', () => {
  test('is everything of up to 20 rows before one, and nothing is left', () => {
    const all = found(limits(21));
    expect(ofPairs(all)).toHaveLength(210);
    expect(all).toHaveLength(210);
  });

  test('is the first 20 of each row with those before it; how many more there are comes last', () => {
    const all = found(limits(23));
    expect(ofPairs(all)).toHaveLength(250);
    expect(ofPairs(all).filter(({ rows }) => rows[1] === 'row 22')).toHaveLength(20);
    expect(all.filter(({ rows }) => rows[0] === 'row 20').map(({ rows }) => rows[1])).toEqual([]);
    expect(all.at(-1)).toEqual(more(3));
  });

  test('is 500 in all', () => {
    const all = found(limits(60));
    expect(ofPairs(all)).toHaveLength(500);
    expect(all.at(-1)).toEqual(more((60 * 59) / 2 - 500));
  });

  test('is an error before any doubt, also of the last row', () => {
    const all = found([...limits(60), limit({ row: 'last', keep: { max: 10.005 }, repair: null })]);
    expect(
      all.filter(({ severity }) => severity === 'error').map(({ rows, lint }) => [lint, ...rows]),
    ).toEqual(Array.from({ length: 20 }, (_, i) => ['contradiction', `row ${i + 1}`, 'last']));
    expect(ofPairs(all)).toHaveLength(500);
  });

  test('is bounded for rows on defects, for pairs of makers and for units together', () => {
    const rows = Array.from({ length: 30 }, (_, i) => [
      defect({ row: `defect ${i}` }),
      match({
        row: `match ${i}`,
        together: i % 2 === 0 ? 'may' : 'may not',
        pairs: [pair('Ring'), pair(`${i}`)],
      }),
      limit({
        row: `limit ${i}`,
        keep: { min: i % 2 === 0 ? 1 : 25.4 },
        repair: null,
        diameterCodes: { min: 25, max: 25 },
      }),
    ]);
    const all = found(rows.flat());
    const count = (lint: string) => all.filter((one) => one.lint === lint).length;
    // Errors first: every other match row before one, at most 15.
    expect(all.filter(({ severity }) => severity === 'error')).toHaveLength(15 * 15);
    expect(count('contradiction')).toBe(15 * 15);
    expect(ofPairs(all)).toHaveLength(500);
    const inAll = 15 * 15 + 2 * ((30 * 29) / 2) + 15 * 15;
    expect(all.at(-1)).toEqual(more(inAll - 500));
  });
});
