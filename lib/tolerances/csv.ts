import Papa from 'papaparse';
import { fail, ok, type Problem, type Result, valueAt } from '../base/index.ts';
import { cellText } from './csvCells.ts';
import { COLUMNS, type Column, hasSize, kindOfRow, type LineKind } from './csvColumns.ts';
import { readCsvFile } from './csvFile.ts';
import { placeOfCell } from './csvRow.ts';
import { cellOfField, tableOfLines } from './lines.ts';
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
 * Reads a table from CSV, as `tableToCsv` writes it or a person does, with the places of its fields. Fails with every
 * problem of the file: those of its lines and cells, and those of the table in all that can be read (see `parseTable`).
 * Problem.field is "line 7, keep min"; lines count as the rows of a spreadsheet.
 */
export function tableFromCsv(text: string): Result<PlacedTable, readonly Problem[]> {
  const file = readCsvFile(text);
  if (!file.ok) return file;
  const { table, problems } = tableOfLines(file.value);
  const unread = file.value.problems;
  // Lines that cannot be read may be the rows that are missed.
  const all = [
    ...unread,
    ...(unread.length === 0 ? problems : problems.filter((one) => one.field !== 'file')),
  ];
  if (table === null || all.length > 0) return fail(all);
  return ok({
    table,
    placeOf(field) {
      const cell = cellOfField(field, file.value);
      return cell === null ? 'file' : placeOfCell(cell.line.number, cell.column);
    },
  });
}
