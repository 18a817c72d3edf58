import Papa from 'papaparse';
import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { ComponentKind } from '../wheel/index.ts';
import { componentDescribed, Made, MadeOn } from './kinds/component.ts';
import type { ComponentState } from './register.ts';

/** Columns of a file of parts, in their order. */
export const PART_COLUMNS = [
  'id',
  'kind',
  'maker',
  'series',
  'stamp',
  'part number',
  'serial',
  'date code',
  'made',
  'made on',
  'not before',
  'not after',
  'basis',
  'identity',
] as const;
type Column = (typeof PART_COLUMNS)[number];
type Cells = Readonly<Partial<Record<Column, string>>>;

type PartBody = z.input<typeof componentDescribed.body>;

/** One line of a file of parts, and what bringing it in would do. */
export interface PartLine {
  /** As a spreadsheet counts; the header is line 1. */
  readonly line: number;
  readonly what: 'new' | 'changed' | 'as it is' | 'wrong';
  /** The part that the line is about; null: one that is not here yet. */
  readonly component: string | null;
  readonly body: PartBody | null;
  /** Each names its column in `field`. */
  readonly problems: readonly Problem[];
}

/** A file of parts as it was read: nothing is brought in while any line is wrong. */
export interface PartsFile {
  readonly lines: readonly PartLine[];
}

const WAY_OUT = 'Put it right in the file and choose the file again.';

function cellsOf(component: ComponentState): Record<Column, string> {
  const { made } = component;
  return {
    id: component.id,
    kind: component.componentKind,
    maker: component.maker,
    series: component.series,
    stamp: component.stamp,
    'part number': component.partNumber,
    serial: component.serial,
    'date code': component.dateCode,
    made: made.how,
    'made on': made.how === 'known' ? made.on : '',
    'not before': made.how === 'estimated' ? made.notBefore : '',
    'not after': made.how === 'estimated' ? made.notAfter : '',
    basis: made.how === 'estimated' ? made.basis : '',
    identity: component.identity,
  };
}

/** Parts as CSV (RFC 4180, UTF-8), one line each, by id; what a spreadsheet would take for a formula gets an apostrophe. */
export function partsAsCsv(components: readonly ComponentState[]): string {
  const rows = [...components]
    .filter(({ described, mergedInto }) => described && mergedInto === null)
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map(cellsOf);
  return Papa.unparse({ fields: [...PART_COLUMNS], data: rows }, { escapeFormulae: true });
}

function madeIn(cells: Cells): Result<Made, Problem> {
  const how = cells.made ?? '';
  const made =
    how === 'known'
      ? { how, on: cells['made on'] ?? '' }
      : how === 'estimated'
        ? {
            how,
            notBefore: cells['not before'] ?? '',
            notAfter: cells['not after'] ?? '',
            basis: cells.basis ?? '',
          }
        : { how };
  const read = Made.safeParse(made);
  if (read.success) return ok(read.data);
  const dates = (['made on', 'not before', 'not after'] as const).filter(
    (column) => (cells[column] ?? '') !== '' && !MadeOn.safeParse(cells[column]).success,
  );
  const column = dates[0] ?? (how === 'known' ? 'made on' : how === 'estimated' ? 'basis' : 'made');
  return fail(
    problem(
      'part-made',
      column,
      cells[column] ?? '',
      column === 'made'
        ? 'Age is known, estimated or unknown: it is never left blank'
        : 'The age does not say what it has to: a year or month, and for an estimate both ends and its basis',
      WAY_OUT,
    ),
  );
}

function bodyIn(cells: Cells): Result<PartBody, Problem> {
  const kind = ComponentKind.safeParse(cells.kind ?? '');
  if (!kind.success) {
    const kinds = ComponentKind.options.join(', ');
    return fail(problem('part-kind', 'kind', cells.kind ?? '', `A part is one of: ${kinds}`, WAY_OUT));
  }
  const made = madeIn(cells);
  if (!made.ok) return made;
  const body = componentDescribed.body.safeParse({
    componentKind: kind.data,
    maker: cells.maker ?? '',
    series: cells.series ?? '',
    stamp: cells.stamp ?? '',
    partNumber: cells['part number'] ?? '',
    serial: cells.serial ?? '',
    dateCode: cells['date code'] ?? '',
    made: made.value,
    stampPhoto: null,
    identity: cells.identity === '' || cells.identity === undefined ? 'identified' : cells.identity,
  });
  if (body.success) return ok(body.data);
  const field = String(body.error.issues[0]?.path[0] ?? 'identity');
  const column = PART_COLUMNS.find((one) => one.replace(' ', '') === field.toLowerCase()) ?? 'identity';
  return fail(
    problem(
      'part-cell',
      column,
      cells[column] ?? '',
      column === 'identity' ? 'A part is identified, or cannot be identified' : 'This is too long',
      WAY_OUT,
    ),
  );
}

/** Formulas are written with an apostrophe before them, which reading takes away again. */
function plain(cell: string): string {
  return cell.trim().replace(/^'(?=[=+\-@\t\r])/, '');
}

/** The record that a line is about: named by its id, or the one part of its kind with this maker and serial number. */
function componentOf(
  { id = '', kind = '', maker = '', serial = '' }: Cells,
  known: ReadonlyMap<string, ComponentState>,
): Result<string | null, Problem> {
  if (id !== '') {
    return known.has(id)
      ? ok(id)
      : fail(problem('part-id', 'id', id, 'No part here has this id', 'Leave the id out for a new part.'));
  }
  if (serial === '') return ok(null);
  const alike = [...known.values()].filter(
    (one) =>
      one.mergedInto === null && one.componentKind === kind && one.maker === maker && one.serial === serial,
  );
  if (alike.length < 2) return ok(alike[0]?.id ?? null);
  return fail(
    problem(
      'part-several',
      'serial',
      serial,
      `${alike.length} parts here have this maker and serial number`,
      'Give the id of the one that is meant, or merge them first.',
    ),
  );
}

function lineOf(cells: Cells, line: number, known: ReadonlyMap<string, ComponentState>): PartLine {
  const [component, body] = [componentOf(cells, known), bodyIn(cells)];
  const problems = [component, body].flatMap((read) => (read.ok ? [] : [read.error]));
  if (!component.ok || !body.ok) return { line, what: 'wrong', component: null, body: null, problems };
  const before = component.value === null ? undefined : known.get(component.value);
  if (before === undefined) return { line, what: 'new', component: null, body: body.value, problems };
  // A file has no photos: the one that is there stays.
  const after = { ...body.value, stampPhoto: before.stampPhoto };
  const same =
    JSON.stringify(cellsOf({ ...before, ...after } as ComponentState)) === JSON.stringify(cellsOf(before));
  return { line, what: same ? 'as it is' : 'changed', component: before.id, body: after, problems };
}

/**
 * Reads a file of parts (CSV; comma, semicolon or tab) against the parts that are here, and says line by line what it would
 * do. Fails as a whole, with all that is wrong, when it is no such file.
 */
export function readPartsCsv(
  text: string,
  known: ReadonlyMap<string, ComponentState>,
): Result<PartsFile, readonly Problem[]> {
  const parsed = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: 'greedy',
    transformHeader: (header) => header.trim().toLowerCase(),
    transform: plain,
  });
  const columns = parsed.meta.fields ?? [];
  const strange = columns.filter((column) => !(PART_COLUMNS as readonly string[]).includes(column));
  const missing = (['kind', 'made'] as const).filter((column) => !columns.includes(column));
  const wrong = [
    ...strange.map((column) =>
      problem(
        'parts-column',
        column,
        column,
        'There is no such column',
        `Columns are: ${PART_COLUMNS.join(', ')}.`,
      ),
    ),
    ...missing.map((column) =>
      problem(
        'parts-column',
        column,
        '',
        `The column "${column}" is missing`,
        'Add it; save parts from here to see how.',
      ),
    ),
  ];
  if (wrong.length > 0) return fail(wrong);
  if (parsed.data.length === 0)
    return fail([problem('parts-empty', 'file', '', 'The file has no parts', 'Choose another file.')]);
  const lines = parsed.data.map((cells, i) => lineOf(cells as Cells, i + 2, known));
  return ok({ lines: twice(lines) });
}

/** A part that two lines are about would be described by whichever came last: both lines say so. */
function twice(lines: readonly PartLine[]): PartLine[] {
  return lines.map((one) => {
    const others = lines.filter(
      (other) => other !== one && one.component !== null && other.component === one.component,
    );
    if (others.length === 0) return one;
    const at = others.map(({ line }) => line).join(', ');
    const why = problem('part-twice', 'id', one.component, `Line ${at} is about the same part`, WAY_OUT);
    return { ...one, what: 'wrong', problems: [...one.problems, why] };
  });
}
