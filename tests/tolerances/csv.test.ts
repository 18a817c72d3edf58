import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { bundledTables, tableFromCsv, tableHash, tableToCsv } from '../../lib/tolerances/index.ts';
import { anyTable } from './arbitraryTable.ts';

/** The hash of the table in a CSV text; what is wrong with it instead where it cannot be read. */
function hashIn(text: string): unknown {
  const read = tableFromCsv(text);
  return read.ok ? tableHash(read.value.table) : read.error;
}

/** The same cells as another program would write them. */
function rewritten(text: string, delimiter: string, newline: string): string {
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), { delimiter: ',', newline: '\r\n' });
  return Papa.unparse(data, { delimiter, newline });
}

describe('a table written as CSV and read again', () => {
  test.each(bundledTables.map((table) => [table.table, table] as const))('%s is the same', (_, table) => {
    expect(hashIn(tableToCsv(table))).toBe(tableHash(table));
  });

  test('any table is the same, whatever separates cells and lines', () => {
    fc.assert(
      fc.property(
        anyTable,
        fc.constantFrom(',', ';', '\t'),
        fc.constantFrom('\r\n', '\n', '\r'),
        (table, delimiter, newline) => {
          const text = tableToCsv(table);
          expect(hashIn(text)).toBe(tableHash(table));
          expect(hashIn(rewritten(text, delimiter, newline))).toBe(tableHash(table));
        },
      ),
      { numRuns: 200 },
    );
  });

  test('no cell of any table begins a formula, but for numbers below zero', () => {
    fc.assert(
      fc.property(anyTable, (table) => {
        const { data } = Papa.parse<string[]>(tableToCsv(table).slice(1), {
          delimiter: ',',
          newline: '\r\n',
        });
        const risky = data.flat().filter((cell) => /^[=+\-@\t\r\n＝＋－＠]/.test(cell.trimStart() || cell));
        expect(risky.filter((cell) => !Number.isFinite(Number(cell)) || cell.trim() === '')).toEqual([]);
      }),
      { numRuns: 100 },
    );
  });
});
