import { must, type Problem, problem } from '../base/index.ts';
import { COLUMNS, columnOfField } from './csvColumns.ts';
import { placeOfCell, type ReadLine } from './csvRow.ts';
import { parseTable } from './parse.ts';
import type { Table } from './table.ts';

/** The lines of a table: the one of the table itself and those of its rows. */
export interface TableLines {
  readonly tableLine: ReadLine;
  readonly rowLines: readonly ReadLine[];
}

/** A cell, by its line and column; the column of a fault of the whole line is `type`. */
export interface PlacedCell {
  readonly line: ReadLine;
  readonly column: string;
  /** The field as its line knows it: "keep.min". */
  readonly inLine: string;
}

/** The cell that a field of the table was read from; null for the list of rows as a whole. */
export function cellOfField(field: string, { tableLine, rowLines }: TableLines): PlacedCell | null {
  if (field === 'rows') return null;
  const [whole, index, ...inRow] = field.split('.');
  const isRow = whole === 'rows';
  const line = isRow ? must(rowLines[Number(index)], field) : tableLine;
  const inLine = isRow ? inRow.join('.') : field;
  return { line, column: columnOfField(line.kind, inLine)?.name ?? 'type', inLine };
}

/** Whether a fault of a field only follows from a cell that could not be read. */
function followsFrom(line: ReadLine, inLine: string): boolean {
  const unread = line.problems.map((one) => one.field.slice(placeOfCell(line.number, '').length));
  return COLUMNS.filter(({ name }) => unread.includes(name)).some(({ paths }) => {
    const path = paths[line.kind] ?? '';
    return path === inLine || path.startsWith(`${inLine}.`) || inLine.startsWith(`${path}.`);
  });
}

/**
 * What lines say together: the table, or every problem: those of cells that cannot be read, and those that `parseTable`
 * finds in all the others. Problem.field is the place of the cell, "line 7, keep min".
 */
export function tableOfLines(lines: TableLines): {
  readonly table: Table | null;
  readonly problems: readonly Problem[];
} {
  const { tableLine, rowLines } = lines;
  const ofCells = [tableLine, ...rowLines].flatMap((line) =>
    line.problems.map((wrong) => ({ number: line.number, wrong })),
  );
  const parsed = parseTable({ ...tableLine.value, rows: rowLines.map(({ value }) => value) });
  if (parsed.ok && ofCells.length === 0) return { table: parsed.value, problems: [] };
  const ofTable = (parsed.ok ? [] : parsed.error).flatMap(({ field, code, message, wayOut }) => {
    const cell = cellOfField(field, lines);
    if (cell === null) {
      return [{ number: 0, wrong: problem(code, 'file', `${rowLines.length} rows`, message, wayOut) }];
    }
    const { line, column, inLine } = cell;
    if (followsFrom(line, inLine)) return [];
    const place = placeOfCell(line.number, column);
    return [
      { number: line.number, wrong: problem(code, place, line.cells.get(column) ?? '', message, wayOut) },
    ];
  });
  const problems = [...ofCells, ...ofTable].sort((a, b) => a.number - b.number).map(({ wrong }) => wrong);
  return { table: null, problems };
}
