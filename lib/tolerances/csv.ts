import Papa from 'papaparse';
import { fail, must, ok, type Problem, problem, type Result, valueAt } from '../base/index.ts';
import { cellText } from './csvCells.ts';
import { COLUMNS, type Column, columnOfField, hasSize, kindOfRow, type LineKind } from './csvColumns.ts';
import { type CsvFile, readCsvFile } from './csvFile.ts';
import { placeOfCell } from './csvRow.ts';
import { parseTable } from './parse.ts';
import type { Table } from './table.ts';

/** A table with the places of its fields in the file it was read from. */
export interface PlacedTable {
  readonly table: Table;
  /** Where a field stands in the file, for a person: "rows.3.keep.min" may be "line 5, keep min". */
  readonly placeOf: (field: string) => string;
}

const BYTE_ORDER_MARK = '\uFEFF';

/** The cells of a line in the order of `COLUMNS`; `''` where the kind of line or this very line has nothing. */
function cellsOf(kind: LineKind, type: string, value: object): string[] {
  const heldIn = ({ paths }: Column) => {
    const path = paths[kind];
    return path ? valueAt(value, path.split('.')) : undefined;
  };
  const sized = COLUMNS.some((column) => hasSize(column) && heldIn(column) !== undefined);
  return COLUMNS.map((column) => {
    if (column.name === 'type') return type;
    if (column.name === 'unit') return sized ? 'mm' : '';
    const held = heldIn(column);
    return held === undefined ? '' : cellText(column.form, held);
  });
}

/**
 * A table as CSV (RFC 4180, UTF-8 with a byte order mark, CR LF): a header line, the table line, a line for every row.
 * Sizes are in mm and mm² with full precision. No cell begins a formula when a spreadsheet opens the file.
 */
export function tableToCsv(table: Table): string {
  const rows = table.rows.map((row) => cellsOf(kindOfRow(row), row.type, row));
  const lines = [COLUMNS.map(({ name }) => name), cellsOf('table', 'table', table), ...rows];
  return `${BYTE_ORDER_MARK}${Papa.unparse(lines)}\r\n`;
}

/**
 * Reads a table from CSV, as `tableToCsv` writes it or a person does. Fails with every problem of the file: those of
 * its lines and cells, or, when all cells can be read, those of the table (see `parseTable`). Problem.field is
 * "line 7, keep min"; lines count as the rows of a spreadsheet.
 */
export function tableFromCsv(text: string): Result<Table, readonly Problem[]> {
  const read = placedTableFromCsv(text);
  return read.ok ? ok(read.value.table) : read;
}

/** As `tableFromCsv`, with the places of the fields. */
export function placedTableFromCsv(text: string): Result<PlacedTable, readonly Problem[]> {
  const file = readCsvFile(text);
  if (!file.ok) return file;
  const { tableLine, rowLines } = file.value;
  const parsed = parseTable({ ...tableLine.value, rows: rowLines.map(({ value }) => value) });
  if (parsed.ok) return ok({ table: parsed.value, placeOf: (field) => cellOf(field, file.value).place });
  return fail(
    parsed.error.map((one) => {
      const { place, cell } = cellOf(one.field, file.value);
      return problem(one.code, place, cell, one.message, one.wayOut);
    }),
  );
}

/** The cell that a field of the table was read from, and what stands in it. */
function cellOf(field: string, { tableLine, rowLines }: CsvFile): { place: string; cell: string } {
  const [whole, index, ...inRow] = field.split('.');
  if (field === 'rows') return { place: 'file', cell: `${rowLines.length} rows` };
  const isRow = whole === 'rows';
  const line = isRow ? must(rowLines[Number(index)], field) : tableLine;
  const column = columnOfField(line.kind, isRow ? inRow.join('.') : field)?.name ?? 'type';
  return { place: placeOfCell(line.number, column), cell: line.cells.get(column) ?? '' };
}
