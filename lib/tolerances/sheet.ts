import { type Problem, problem, valueAt } from '../base/index.ts';
import { cellText } from './csvCells.ts';
import { COLUMNS, type Column, columnOfField, kindOfRow, type LineKind } from './csvColumns.ts';
import { readLine } from './csvRow.ts';
import { guarded } from './csvText.ts';
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
}

const SIZES = ['size', 'bound', 'length', 'area'];

/** The columns that a kind of line uses, in their order, without those that its kind settles. */
export function columnsOf(kind: LineKind): readonly Column[] {
  return COLUMNS.filter(({ name, paths }) => paths[kind] !== undefined && name !== 'type' && name !== 'ask');
}

function lineOf(id: string, kind: LineKind, value: object): SheetLine {
  const cells: Record<string, string> = {};
  for (const { name, form, paths } of columnsOf(kind)) {
    const path = paths[kind];
    const held = path ? valueAt(value, path.split('.')) : undefined;
    if (held === undefined) continue;
    cells[name] = form === 'text' ? String(held) : cellText(form, held);
    if (SIZES.includes(form)) cells.unit = 'mm';
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

/** The line and the column that a field of a table is written in: "rows.3.keep.min". */
export function placeInSheet(
  sheet: Sheet,
  field: string,
): { readonly line: string; readonly column: string } {
  const [, index, inRow] = /^rows\.(\d+)\.?(.*)$/.exec(field) ?? [];
  const line = (index === undefined ? undefined : sheet.rows[Number(index)]) ?? sheet.table;
  return { line: line.id, column: columnOfField(line.kind, inRow ?? field)?.name ?? '' };
}

/** Reads a sheet: the cells as in CSV, then the table as `parseTable` does. */
export function readSheet(sheet: Sheet): ReadSheet {
  const lines = [sheet.table, ...sheet.rows];
  const read = lines.map((line, index) => readLine(index + 1, line.kind, cellsOf(line)));
  const problems = read.flatMap((one, index) =>
    one.problems.map((wrong): SheetProblem => {
      const column = wrong.field.replace(/^line \d+, /, '');
      return { line: lines[index]?.id ?? '', column, problem: { ...wrong, field: column } };
    }),
  );
  if (problems.length > 0) return { table: null, problems };
  const [table, ...rows] = read.map((one) => one.value);
  const parsed = parseTable({ ...table, rows });
  if (parsed.ok) return { table: parsed.value, problems: [] };
  return {
    table: null,
    problems: parsed.error.map((wrong) => {
      const place = placeInSheet(sheet, wrong.field);
      const cell = lines.find((line) => line.id === place.line)?.cells[place.column] ?? '';
      return { ...place, problem: problem(wrong.code, place.column, cell, wrong.message, wrong.wayOut) };
    }),
  };
}
