import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import {
  bundledTables,
  columnsOf,
  LINE_KINDS,
  optionsOf,
  readSheet,
  type Sheet,
  sheetOf,
  tableHash,
} from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { anyTable } from './arbitraryTable.ts';

const sheet = sheetOf(
  tableOf([
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      components: ['rim base'],
      keep: { min: 10.5 },
      repair: { min: 9 },
      methods: ['gauge'],
      source: testSource,
    },
    {
      row: 'no welding',
      type: 'no rework',
      says: '=never',
      source: testSource,
    },
  ]),
);

/** The sheet with cells of its first row, of its table line, or both changed. */
function changed(row: Record<string, string>, table: Record<string, string> = {}): Sheet {
  const [first, ...rest] = sheet.rows;
  const line = must(first, 'a row');
  return {
    table: { ...sheet.table, cells: { ...sheet.table.cells, ...table } },
    rows: [{ ...line, cells: { ...line.cells, ...row } }, ...rest],
  };
}
const placesIn = (one: Sheet) => readSheet(one).problems.map(({ line, column }) => `${line}: ${column}`);

describe('a table as a sheet of cells', () => {
  test('reads back as the same table, whatever the table', () => {
    fc.assert(
      fc.property(anyTable, (table) => {
        const { table: again, problems } = readSheet(sheetOf(table));
        expect(problems).toEqual([]);
        expect(tableHash(must(again, 'the table'))).toBe(tableHash(table));
      }),
      { numRuns: 60 },
    );
    for (const table of bundledTables) {
      expect(tableHash(must(readSheet(sheetOf(table)).table, 'a bundled table'))).toBe(tableHash(table));
    }
  });

  test('shows a text that a spreadsheet would take for a formula as it is', () => {
    expect(sheet.rows[1]?.cells.says).toBe('=never');
  });

  test('takes numbers as people type them, in the unit of the line', () => {
    const read = readSheet(changed({ unit: 'in', 'keep min': '7/16', 'repair min': '0,375' })).table;
    expect(read?.rows[0]).toMatchObject({ keep: { min: 11.1125 }, repair: { min: 9.525 } });
  });

  test('tells every cell that is wrong, at its line and column, all at once', () => {
    expect(
      placesIn(changed({ 'keep min': 'ten', 'source kind': 'sight' }, { title: '', edition: '' })),
    ).toEqual(['table: title', 'table: edition', 'row 1: keep min', 'row 1: source kind']);
    expect(placesIn(changed({ 'keep min': '5' }))).toEqual(['row 1: keep min']);
    expect(placesIn({ ...sheet, rows: [] })).toEqual(['table: ']);
  });

  test('has the rows that can be read looked through, though others or the table line cannot be', () => {
    const { table, readable } = readSheet(changed({}, { edition: '' }));
    expect(table).toBeNull();
    expect(readable?.rows.map((row) => row.row)).toEqual(['depth', 'no welding']);
    expect(readSheet(changed({ 'keep min': 'ten' })).readable).toMatchObject({
      table: 'test table',
      rows: [{ row: 'no welding' }],
    });
    expect(readSheet({ ...sheet, rows: [] }).readable).toBeNull();
    expect(readSheet(sheet).readable).toEqual(readSheet(sheet).table);
  });
});

describe('words that a cell takes', () => {
  const samples = fc.sample(anyTable, { numRuns: 300, seed: 7 }).map(sheetOf);
  test.each(LINE_KINDS.filter((kind) => kind !== 'table'))(
    'are each understood in a line of type %s',
    (kind) => {
      const line = must(
        samples.flatMap(({ rows }) => rows).find((one) => one.kind === kind),
        kind,
      );
      for (const { name, form } of columnsOf(kind)) {
        for (const option of optionsOf(name, kind) ?? []) {
          const cell = name === 'between' ? `${option}; ${option}` : option;
          const tried = { ...sheet, rows: [{ ...line, cells: { ...line.cells, [name]: cell } }] };
          expect(placesIn(tried), `${option} in ${name}`).not.toContain(`${line.id}: ${name}`);
        }
        const other = { ...sheet, rows: [{ ...line, cells: { ...line.cells, [name]: 'nonsense' } }] };
        const told = placesIn(other).includes(`${line.id}: ${name}`);
        if (form === 'word' || optionsOf(name, kind) !== null) expect(told, `nonsense in ${name}`).toBe(true);
      }
    },
  );

  test('the two kinds of a row of pairs are in an order, which is that of its pairs', () => {
    expect(columnsOf('match').find(({ name }) => name === 'between')?.form).toBe('two words');
    const pairs = 'Ring | R + Base | B';
    const read = (between: string) => {
      const cells = { name: 'x', between, pairs, together: 'may', says: 'x', 'source title': 'x' };
      const line = { id: 'row', kind: 'match', cells: { ...cells, 'source kind': 'site' } } as const;
      const [row] = readSheet({ ...sheet, rows: [line] }).table?.rows ?? [];
      return row?.type === 'match' ? [row.between, row.pairs[0]?.map(({ maker }) => maker)] : null;
    };
    expect(read('lock ring; rim base')).toEqual([
      ['lock ring', 'rim base'],
      ['Ring', 'Base'],
    ]);
    expect(read('rim base; lock ring')).toEqual([
      ['rim base', 'lock ring'],
      ['Ring', 'Base'],
    ]);
  });
});
