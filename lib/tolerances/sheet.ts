import { must, type Problem, valueAt } from '../base/index.ts';
import { cellText } from './csvCells.ts';
import { COLUMNS, type Column, hasSize, kindOfRow, type LineKind } from './csvColumns.ts';
import { type ReadLine, readLine } from './csvRow.ts';
import { guarded } from './csvText.ts';
import { tableOfLines } from './lines.ts';
import { parseTable } from './parse.ts';
import type { Table } from './table.ts';

/** One line of a table that is being written: its cells as typed, by the name of their column; an absent cell is empty. */
export interface SheetLine {
  /** Names the line while it is written; no part of the table. */
  readonly id: string;
  readonly kind: LineKind;
  readonly cells: Readonly<Record<string, string>>;
}

/** A table that is being written, readable or not. Its cells are those of the CSV form. */
export interface Sheet {
  readonly table: SheetLine;
  readonly rows: readonly SheetLine[];
}

/** What is wrong with a cell of a sheet, or with a line (an empty column). */
export interface SheetProblem {
  readonly line: string;
  readonly column: string;
  readonly problem: Problem;
}

/** A sheet read: the table when all of it can be read, otherwise every problem. */
export interface ReadSheet {
  readonly table: Table | null;
  readonly problems: readonly SheetProblem[];
  /** The rows that can be read, whatever else cannot; null when there are none. For drawings and lint meanwhile. */
  readonly readable: Table | null;
}

/** The columns that a kind of line uses, in their order, without those that its kind settles. */
export function columnsOf(kind: LineKind): readonly Column[] {
  return COLUMNS.filter(({ name, paths }) => paths[kind] !== undefined && name !== 'type' && name !== 'ask');
}

function lineOf(id: string, kind: LineKind, value: object): SheetLine {
  const cells: Record<string, string> = {};
  for (const column of columnsOf(kind)) {
    const { name, form, paths } = column;
    const path = paths[kind];
    const held = path ? valueAt(value, path.split('.')) : undefined;
    if (held === undefined) continue;
    cells[name] = form === 'text' ? String(held) : cellText(form, held);
    if (hasSize(column)) cells.unit = 'mm';
  }
  return { id, kind, cells };
}

/** A table as a sheet to be changed; sizes in mm and mm². */
export function sheetOf(table: Table): Sheet {
  return {
    table: lineOf('table', 'table', table),
    rows: table.rows.map((row, index) => lineOf(`row ${index + 1}`, kindOfRow(row), row)),
  };
}

function cellsOf({ kind, cells }: SheetLine): ReadonlyMap<string, string> {
  const [type = '', ask = ''] = /^(\w[\w ]*?)(?: \((\w+)\))?$/.exec(kind)?.slice(1) ?? [];
  return new Map([
    ...columnsOf(kind).map(({ name, form }): [string, string] => {
      const cell = cells[name] ?? '';
      return [name, form === 'text' ? guarded(cell) : cell];
    }),
    ['type', type],
    ['ask', ask],
  ]);
}

/** What stands for a table line that cannot be read yet, so that its rows can be looked through. */
const STAND_IN = {
  table: 'draft',
  title: 'draft',
  edition: 'draft',
  issuedBy: 'draft',
  scope: {},
  effectiveFrom: '0001-01-01',
  decision: { rule: 'guarded' },
};

/** Reads a sheet: the cells as in CSV, then the table as `parseTable` does. */
export function readSheet(sheet: Sheet): ReadSheet {
  const lines = [sheet.table, ...sheet.rows];
  const read = lines.map((line, index) => readLine(index, line.kind, cellsOf(line)));
  const tableLine = must(read[0], 'the table line');
  const rowLines = read.slice(1);
  const { table, problems } = tableOfLines({ tableLine, rowLines });
  const placed = problems.map((wrong): SheetProblem => {
    const [, number, column] = /^line (\d+), (.+)$/.exec(wrong.field) ?? [];
    return { line: lines[Number(number ?? 0)]?.id ?? '', column: column ?? '', problem: wrong };
  });
  return { table, problems: placed, readable: table ?? readableOf(tableLine, rowLines) };
}

/** A table of the rows that can be read; null when there are none. */
function readableOf(tableLine: ReadLine, rowLines: readonly ReadLine[]): Table | null {
  const rows = rowLines.filter((line) => line.problems.length === 0).map((line) => line.value);
  const sound = rows.filter((row) => parseTable({ ...STAND_IN, rows: [row] }).ok);
  const own = parseTable({ ...tableLine.value, rows: sound });
  const parsed = own.ok && tableLine.problems.length === 0 ? own : parseTable({ ...STAND_IN, rows: sound });
  return parsed.ok ? parsed.value : null;
}
