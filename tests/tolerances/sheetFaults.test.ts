import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { columnsOf, readSheet, type Sheet, type SheetLine, sheetOf } from '../../lib/tolerances/index.ts';
import { tableOf } from '../support/evidence.ts';
import { defect, limit, match, second } from './lintRows.ts';

const table = tableOf([limit(), defect(second)]);
const sheet = sheetOf(table);
const [first, other] = sheet.rows.map((line) => must(line, 'a row'));

/** A line with some of its cells replaced. */
const withCells = (line: SheetLine | undefined, cells: Record<string, string>): SheetLine => {
  const whole = must(line, 'a line');
  return { ...whole, cells: { ...whole.cells, ...cells } };
};
const withTable = (cells: Record<string, string>): Sheet => ({
  ...sheet,
  table: withCells(sheet.table, cells),
});
const withFirst = (cells: Record<string, string>): Sheet => ({
  ...sheet,
  rows: [withCells(first, cells), ...sheet.rows.slice(1)],
});
const columns = (kind: SheetLine['kind']) => columnsOf(kind).map(({ name }) => name);

describe('a table as a sheet', () => {
  test('names its lines, in the order of the table', () => {
    expect([sheet.table, ...sheet.rows].map(({ id, kind }) => [id, kind])).toEqual([
      ['table', 'table'],
      ['row 1', 'limit'],
      ['row 2', 'defect'],
    ]);
  });

  test('gives the unit of a line with sizes, and of no other', () => {
    expect(first?.cells.unit).toBe('mm');
    expect(other?.cells.unit).toBeUndefined();
    expect(sheet.table.cells.unit).toBeUndefined();
    const sized = sheetOf(tableOf([defect({ verdict: 'repair', repairUpToMm: 10 })]));
    expect(sized.rows[0]?.cells).toMatchObject({ unit: 'mm', 'repair up to length': '10' });
  });

  test('has no cell for what a row does not say', () => {
    expect(other?.cells).toEqual({
      name: 'second',
      defects: 'crack',
      verdict: 'scrap',
      'repair needs': 'rework',
      says: 'Cracked parts go.',
      note: '',
      'source title': 'Test',
      'source section': '',
      'source page': '',
      'source edition': '',
      'source kind': 'demonstration',
    });
  });

  test('offers the columns of each kind of line, without those that its kind settles', () => {
    expect(columns('match')).toEqual([
      'name',
      'diameter from',
      'diameter to',
      'between',
      'pairs',
      'together',
      'says',
      'note',
      'source title',
      'source section',
      'source page',
      'source edition',
      'source kind',
    ]);
    expect(columns('evidence (reading)')).toContain('repeats');
    expect(columns('evidence (reading)')).not.toContain('ask');
    expect(columns('evidence (photo)')).not.toContain('repeats');
  });

  test.each(['evidence (photo)', 'evidence (reading)', 'no rework'] as const)(
    'reads a line of type %s',
    (kind) => {
      const cells = {
        name: 'x',
        says: 'x',
        characteristic: 'gutter depth',
        repeats: '2',
        'source title': 'x',
        'source kind': 'site',
      };
      const read = readSheet({ ...sheet, rows: [{ id: 'new', kind, cells }] });
      expect(read.problems).toEqual([]);
      expect(read.table?.rows[0]).toMatchObject(
        kind === 'no rework'
          ? { type: 'no rework', says: 'x' }
          : {
              type: 'evidence',
              ask: kind === 'evidence (photo)' ? { what: 'photo' } : { what: 'reading', repeats: 2 },
            },
      );
    },
  );

  test('passes over cells of columns that the kind of line does not use', () => {
    expect(
      readSheet(withFirst({ says: 'no column of a limit', type: 'defect', ask: 'photo' })).table,
    ).toEqual(table);
  });

  test('keeps text that looks like a formula, or like one with an apostrophe', () => {
    for (const note of ['=1+1', "'=1+1", '@a', "'plain"]) {
      expect(readSheet(withFirst({ note })).table?.rows[0]?.note).toBe(note);
    }
  });
});

describe('what is wrong with a sheet', () => {
  test('an empty cell that is needed is asked for in two words', () => {
    expect(readSheet(withFirst({ characteristic: ' ' })).problems).toEqual([
      {
        line: 'row 1',
        column: 'characteristic',
        problem: expect.objectContaining({
          code: 'csv-empty-cell',
          message: 'This is needed',
          wayOut: 'Fill it in.',
        }),
      },
    ]);
  });

  test('anything else is told in its own words, at its cell', () => {
    expect(readSheet(withFirst({ 'keep min': '10..5' })).problems).toEqual([
      {
        line: 'row 1',
        column: 'keep min',
        problem: expect.objectContaining({
          code: 'csv-number',
          message: 'This cannot be read as one number',
          wayOut: 'Type one number, such as 10.5, 10,5, 7/16 or 1 3/16.',
        }),
      },
    ]);
    expect(readSheet(withTable({ name: 'own ' })).problems.map(({ line, column }) => [line, column])).toEqual(
      [['table', 'name']],
    );
  });

  test('what is wrong with the whole is told of the table line, at no column', () => {
    expect(readSheet({ ...sheet, rows: [] }).problems.map(({ line, column }) => [line, column])).toEqual([
      ['table', ''],
    ]);
  });

  test('the lines are named in their order, whatever is wrong with them', () => {
    const rows = sheet.rows.map((line) => withCells(line, { 'source title': '' }));
    const wrong = readSheet({ table: withCells(sheet.table, { title: '' }), rows }).problems;
    expect(wrong.map(({ line, column }) => [line, column])).toEqual([
      ['table', 'title'],
      ['row 1', 'source title'],
      ['row 2', 'source title'],
    ]);
  });
});

test('what is wrong with the twelfth row is told of the twelfth', () => {
  const names = Array.from({ length: 12 }, (_, i) => `row ${i + 1}`);
  const rows = names.map((name) => withCells({ ...must(first, 'a row'), id: name }, { name }));
  const wrong = [...rows.slice(0, 11), withCells(rows[11], { 'keep min': 'ten' })];
  expect(readSheet({ ...sheet, rows: wrong }).problems.map(({ line, column }) => [line, column])).toEqual([
    ['row 12', 'keep min'],
  ]);
});

describe('the rows that can be looked through meanwhile', () => {
  test('leave out a row of which any cell cannot be read, though the others would do', () => {
    const read = readSheet(withFirst({ nominal: 'x' }));
    expect(read.problems.map(({ line, column }) => [line, column])).toEqual([['row 1', 'nominal']]);
    expect(read.readable?.rows.map(({ row }) => row)).toEqual(['second']);
  });

  test('keep what the table line says while it can be read', () => {
    expect(readSheet(withFirst({ 'keep min': 'ten' })).readable).toEqual({
      ...table,
      rows: table.rows.slice(1),
    });
  });

  test.each([
    ['its edition is missing', { edition: '' }],
    ['its identity is another than it seems', { name: 'own ' }],
    ['a cell that it could do without cannot be read', { risk: 'one in twenty' }],
  ])('stand in a draft of any part, always in effect, while %s', (_, cells) => {
    expect(readSheet(withTable(cells)).readable).toEqual({
      table: 'draft',
      title: 'draft',
      edition: 'draft',
      issuedBy: 'draft',
      scope: { makers: [], series: [], constructions: [] },
      effectiveFrom: '0001-01-01',
      decision: { rule: 'guarded', risk: 0.05 },
      rows: table.rows,
    });
  });

  test('are none while two have one name', () => {
    const { problems, readable } = readSheet({
      ...sheet,
      rows: sheet.rows.map((line) => withCells(line, { name: 'x' })),
    });
    expect(problems.map(({ line, column }) => [line, column])).toEqual([['row 2', 'name']]);
    expect(readable).toBeNull();
  });

  test('leave out a row that says nothing by itself, though its cells can be read', () => {
    const read = readSheet(withFirst({ 'keep min': '7' }));
    expect(read.problems.map(({ line, column }) => [line, column])).toEqual([['row 1', 'keep min']]);
    expect(read.readable?.rows.map(({ row }) => row)).toEqual(['second']);
  });

  test('are none where none can be read', () => {
    expect(readSheet({ ...sheet, rows: [withCells(first, { 'keep min': 'ten' })] }).readable).toBeNull();
    expect(readSheet(sheetOf(tableOf([match()]))).readable?.rows).toHaveLength(1);
  });
});
