import { must, type Problem, problem } from '../base/index.ts';
import { characteristicOf } from '../readings/index.ts';
import { CharacteristicId } from '../wheel/index.ts';
import { cellValue, type Measure, UNITS } from './csvCells.ts';
import { COLUMNS, type Column, hasSize, LINE_KINDS, type LineKind, usersOf } from './csvColumns.ts';

/** The cells of a line by the name of their column; a column that the file lacks has no cell. */
export type Cells = ReadonlyMap<string | undefined, string>;

/** What a line holds, with what is wrong with its cells. */
export interface ReadLine {
  readonly number: number;
  readonly kind: LineKind;
  readonly cells: Cells;
  /** To be checked by `parseTable`, as (part of) a table. */
  readonly value: Readonly<Record<string, unknown>>;
  readonly problems: readonly Problem[];
}

const TYPES = ['table', 'limit', 'defect', 'no rework', 'test', 'age', 'match', 'evidence'];
const ASKS = ['photo', 'reading'];

/** The place of a cell in a problem: "line 7, keep min". */
export function placeOfCell(number: number, column: string): string {
  return `line ${number}, ${column}`;
}

function wordOf(cells: Cells, column: string): string {
  return (cells.get(column) ?? '').trim();
}

/** The kind of a line, from its type and, for evidence, from what is asked for. */
export function kindOfLine(number: number, cells: Cells): LineKind | Problem {
  const [type, ask] = [wordOf(cells, 'type'), wordOf(cells, 'ask')];
  const known = LINE_KINDS.find((kind) => kind === type || kind === `${type} (${ask})`);
  if (known !== undefined) return known;
  const [column, words, word] = type === 'evidence' ? ['ask', ASKS, ask] : ['type', TYPES, type];
  return problem(
    'csv-kind',
    placeOfCell(number, column),
    word,
    `There is no ${column} of this name`,
    `Use one of ${words.join(', ')}.`,
  );
}

function isFilled(column: Column, cell: string): boolean {
  return column.form === 'text' ? cell !== '' : cell.trim() !== '';
}

function measureOf(cells: Cells): Measure {
  const characteristic = CharacteristicId.safeParse(wordOf(cells, 'characteristic'));
  return {
    unit: UNITS.find((unit) => unit === wordOf(cells, 'unit')) ?? 'mm',
    area: characteristic.success && characteristicOf(characteristic.data).quantity === 'area',
    percent: wordOf(cells, 'bounds of') === 'percent lost',
  };
}

/** A line whose sizes have no unit, or one that is not known, is never taken for millimetres. */
function unitProblems(number: number, kind: LineKind, cells: Cells): Problem[] {
  const { percent } = measureOf(cells);
  const unit = wordOf(cells, 'unit');
  const sized = COLUMNS.find(
    (one) =>
      one.paths[kind] !== undefined &&
      hasSize(one) &&
      !(one.form === 'bound' && percent) &&
      wordOf(cells, one.name) !== '',
  );
  const wrong = (message: string) => [
    problem('csv-unit', placeOfCell(number, 'unit'), unit, message, `Write ${UNITS.join(' or ')}.`),
  ];
  if (unit !== '') return UNITS.some((one) => one === unit) ? [] : wrong('This is not a unit known here');
  return sized === undefined ? [] : wrong(`The unit of ${sized.name} is not given`);
}

/** Puts a value in its place inside nested objects, "keep.min". */
function put(target: Record<string, unknown>, path: string, value: unknown): void {
  const keys = path.split('.');
  const last = must(keys.pop(), path);
  const holder = keys.reduce((outer, key) => {
    outer[key] ??= {};
    return outer[key] as Record<string, unknown>;
  }, target);
  holder[last] = value;
}

/** What a kind of line holds even if all of its cells are empty. */
function emptyValue(kind: LineKind): Record<string, unknown> {
  switch (kind) {
    case 'table':
      return { scope: {} };
    case 'limit':
      return { keep: {}, repair: null };
    case 'evidence (reading)':
      return { ask: { positions: [] } };
    default:
      return {};
  }
}

/** Reads the cells of a line. A column that the file lacks is told of once for the file, not in every line. */
export function readLine(number: number, kind: LineKind, cells: Cells): ReadLine {
  const value = emptyValue(kind);
  const problems = unitProblems(number, kind, cells);
  const measure = measureOf(cells);
  const wrong = (column: Column, code: string, cell: string, message: string, wayOut: string) => {
    problems.push(problem(code, placeOfCell(number, column.name), cell, message, wayOut));
  };
  for (const column of COLUMNS) {
    const cell = cells.get(column.name);
    if (cell === undefined) continue;
    const path = column.paths[kind];
    if (path === undefined) {
      if (cell.trim() !== '')
        wrong(
          column,
          'csv-unused',
          cell,
          `A line of type ${kind} does not use this column`,
          `Empty the cell; the column belongs to ${usersOf(column)}.`,
        );
    } else if (!isFilled(column, cell)) {
      if (column.needed.includes(kind))
        wrong(
          column,
          'csv-empty-cell',
          cell,
          `A line of type ${kind} needs this cell`,
          'Fill in the cell, or correct the type of the line.',
        );
    } else if (path !== '') {
      const read = cellValue(column.form, cell, measure);
      if (read.ok) put(value, path, read.value);
      else wrong(column, read.error.code, cell, read.error.message, read.error.wayOut);
    }
  }
  return { number, kind, cells, value, problems };
}
