import { z } from 'zod';
import { fail, ok, type Problem, problem, problemsFromIssues, type Result, valueAt } from '../base/index.ts';
import { Row, Table } from './table.ts';

const Days = z.object({ effectiveFrom: z.iso.date(), effectiveUntil: z.iso.date() });

/** A row that can be read by itself, and its place in the list. */
interface IndexedRow {
  readonly row: Row;
  readonly index: number;
}

/** Checks a table as read from JSON. All errors at once; each names its field, the value and the way out. */
export function parseTable(candidate: unknown): Result<Table, readonly Problem[]> {
  const parsed = Table.safeParse(candidate);
  const rows = readableRows(candidate);
  const problems = [
    ...(parsed.success
      ? []
      : problemsFromIssues(
          'table-field',
          candidate,
          parsed.error.issues,
          'Correct this value of the table.',
        )),
    ...doubledRows(rows),
    ...rows.flatMap(({ row, index }) => [
      ...beyondRepair(row, index),
      ...relativeWithoutNominal(row, index),
      ...withoutInterval(row, index),
    ]),
    ...endsBeforeItBegins(candidate),
  ];
  return parsed.success && problems.length === 0 ? ok(parsed.data) : fail(problems);
}

/** Rows that can be read, though the table or other rows may not. */
function readableRows(candidate: unknown): IndexedRow[] {
  const rows = valueAt(candidate, ['rows']);
  if (!Array.isArray(rows)) return [];
  return rows.flatMap((one, index) => {
    const row = Row.safeParse(one);
    return row.success ? [{ row: row.data, index }] : [];
  });
}

function doubledRows(rows: readonly IndexedRow[]): Problem[] {
  const seen = new Set<string>();
  return rows.flatMap(({ row, index }) => {
    const doubled = seen.has(row.row);
    seen.add(row.row);
    return doubled
      ? [
          problem(
            'table-row-id',
            `rows.${index}.row`,
            row.row,
            'Two rows have this name',
            'Give each row its own name.',
          ),
        ]
      : [];
  });
}

/** A keep interval that sticks out of the repair interval would turn a worse reading into a milder verdict. */
function beyondRepair(row: Row, index: number): Problem[] {
  if (row.type !== 'limit' || row.repair === null) return [];
  const { keep, repair } = row;
  const ends: ('min' | 'max')[] = [];
  if ((keep.min ?? -Infinity) < (repair.min ?? -Infinity)) ends.push('min');
  if ((keep.max ?? Infinity) > (repair.max ?? Infinity)) ends.push('max');
  return ends.map((end) =>
    problem(
      'table-keep-beyond-repair',
      `rows.${index}.keep.${end}`,
      keep[end],
      'The keep bound lies beyond the repair bound',
      'Every value that may be kept must lie inside the repair bounds too.',
    ),
  );
}

/** Bounds from nominal or in percent lost say nothing without the nominal size. */
function relativeWithoutNominal(row: Row, index: number): Problem[] {
  if (row.type !== 'limit' || (row.boundsOf ?? 'value') === 'value' || row.nominal !== undefined) return [];
  return [
    problem(
      'table-nominal',
      `rows.${index}.nominal`,
      undefined,
      `Bounds of "${row.boundsOf}" need the nominal size`,
      'Give the nominal size, that of the new part, or give the bounds as sizes.',
    ),
  ];
}

/** A test or an age rule must say how long: in time, in hours on duty, or both. */
function withoutInterval(row: Row, index: number): Problem[] {
  const open =
    (row.type === 'test' && row.withinMonths === undefined && row.withinHours === undefined) ||
    (row.type === 'age' && row.upToYears === undefined && row.upToHours === undefined);
  if (!open) return [];
  const [time, unit] = row.type === 'test' ? ['withinMonths', 'months'] : ['upToYears', 'years'];
  return [
    problem(
      'table-interval',
      `rows.${index}.${time}`,
      undefined,
      'The row does not say how long',
      `Give a number of ${unit}, of hours on duty, or both.`,
    ),
  ];
}

function endsBeforeItBegins(candidate: unknown): Problem[] {
  const days = Days.safeParse(candidate);
  if (!days.success || days.data.effectiveUntil >= days.data.effectiveFrom) return [];
  return [
    problem(
      'table-effective',
      'effectiveUntil',
      days.data.effectiveUntil,
      `The last day of effect lies before the first, ${days.data.effectiveFrom}`,
      'Give a later day, or none for a table without an end.',
    ),
  ];
}
