import { describe, expect, test } from 'vitest';
import type { LineKind } from '../../lib/tolerances/csvColumns.ts';
import { readLine } from '../../lib/tolerances/csvRow.ts';
import { cellOfField, tableOfLines } from '../../lib/tolerances/lines.ts';
import { type Line, limitLine, matchLine, tableLine, testLine } from './csvLines.ts';

/** A table of these lines, numbered as in a file whose header is line 1. */
function linesOf(table: Line, ...rows: (readonly [kind: LineKind, line: Line])[]) {
  const read = (number: number, kind: LineKind, line: Line) =>
    readLine(number, kind, new Map(Object.entries(line)));
  return {
    tableLine: read(2, 'table', table),
    rowLines: rows.map(([kind, line], index) => read(index + 3, kind, line)),
  };
}
const both = linesOf(tableLine, ['limit', limitLine], ['match', matchLine]);
const cellsOf = (line: Line, kind: LineKind = 'limit') =>
  tableOfLines(linesOf(tableLine, [kind, line])).problems.map(({ code, field }) => `${code} ${field}`);

describe('the cell that a field was read from', () => {
  const cells: readonly (readonly [field: string, line: number, column: string, inLine: string])[] = [
    ['table', 2, 'name', 'table'],
    ['scope.makers.0', 2, 'makers', 'scope.makers.0'],
    ['decision.risk', 2, 'risk', 'decision.risk'],
    ['decision', 2, 'decision rule', 'decision'],
    ['rows.0.keep.min', 3, 'keep min', 'keep.min'],
    ['rows.0.keep', 3, 'keep min', 'keep'],
    ['rows.0.repair.max', 3, 'repair max', 'repair.max'],
    ['rows.0', 3, 'type', ''],
    ['rows.1.row', 4, 'name', 'row'],
    ['rows.1.pairs.0.1.maker', 4, 'pairs', 'pairs.0.1.maker'],
    ['rows.1.colour', 4, 'type', 'colour'],
    ['colour', 2, 'type', 'colour'],
  ];
  test.each(cells)('%s', (field, number, column, inLine) => {
    expect(cellOfField(field, both)).toMatchObject({ line: { number }, column, inLine });
  });

  test('is none for the rows as a whole', () => {
    expect(cellOfField('rows', both)).toBeNull();
  });

  test('is asked for only in rows that there are', () => {
    expect(() => cellOfField('rows.2.row', both)).toThrow('rows.2.row');
  });
});

describe('what lines say together', () => {
  test('is the table', () => {
    const { table, problems } = tableOfLines(both);
    expect(problems).toEqual([]);
    expect(table?.rows.map(({ row }) => row)).toEqual(['a limit', 'a match']);
  });

  test('is no table while a cell cannot be read, though the rest would make one', () => {
    const { table, problems } = tableOfLines(linesOf({ ...tableLine, risk: 'x' }, ['limit', limitLine]));
    expect(table).toBeNull();
    expect(problems.map(({ field }) => field)).toEqual(['line 2, risk']);
  });

  test('is every problem in the order of the lines, with the text of its cell', () => {
    const { problems } = tableOfLines(
      linesOf(
        { ...tableLine, title: ' ' },
        ['limit', { ...limitLine, methods: 'guess' }],
        ['test', { ...testLine, methods: '', 'within months': '0' }],
      ),
    );
    expect(problems.map(({ code, field, value }) => [code, field, value])).toEqual([
      ['table-field', 'line 2, title', ' '],
      ['table-field', 'line 3, methods', 'guess'],
      ['csv-empty-cell', 'line 4, methods', ''],
      ['table-field', 'line 4, within months', '0'],
    ]);
  });

  test('is told of the file where it is about the rows as a whole', () => {
    const { table, problems } = tableOfLines(linesOf({ ...tableLine, title: ' ' }));
    expect(table).toBeNull();
    expect(problems.map(({ code, field, value }) => [code, field, value])).toEqual([
      ['table-field', 'file', '0 rows'],
      ['table-field', 'line 2, title', ' '],
    ]);
  });

  test('leaves out what only follows from a cell that cannot be read', () => {
    // No bound is left: the row would lack its keep interval.
    expect(cellsOf({ ...limitLine, 'keep min': 'ten', 'repair min': '' })).toEqual([
      'csv-number line 3, keep min',
    ]);
    // The nominal size is given, though not understood.
    expect(cellsOf({ ...limitLine, 'bounds of': 'from nominal', nominal: 'x' })).toEqual([
      'csv-number line 3, nominal',
    ]);
    expect(cellsOf({ ...matchLine, pairs: 'Ring' }, 'match')).toEqual(['csv-list line 3, pairs']);
  });

  test('tells of all else beside a cell that cannot be read', () => {
    expect(cellsOf({ ...limitLine, 'keep min': 'ten', 'repair min': '', methods: 'guess' })).toEqual([
      'csv-number line 3, keep min',
      'table-field line 3, methods',
    ]);
    expect(cellsOf({ ...limitLine, 'diameter from': 'x', 'diameter to': '25', 'keep min': '7' })).toEqual([
      'csv-number line 3, diameter from',
    ]);
  });
});
