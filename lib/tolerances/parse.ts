import { fail, ok, type Problem, problem, problemsFromIssues, type Result } from '../base/index.ts';
import { Table } from './table.ts';

/** Checks a table as read from JSON. All errors at once; each names its field, the value and the way out. */
export function parseTable(candidate: unknown): Result<Table, readonly Problem[]> {
  const parsed = Table.safeParse(candidate);
  if (!parsed.success) {
    return fail(
      problemsFromIssues('table-field', candidate, parsed.error.issues, 'Correct this value of the table.'),
    );
  }
  const problems = [
    ...doubledRows(parsed.data),
    ...beyondRepair(parsed.data),
    ...relativeWithoutNominal(parsed.data),
    ...withoutInterval(parsed.data),
    ...endsBeforeItBegins(parsed.data),
  ];
  return problems.length > 0 ? fail(problems) : ok(parsed.data);
}

function doubledRows(table: Table): Problem[] {
  const seen = new Set<string>();
  return table.rows.flatMap((row, index) => {
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
function beyondRepair(table: Table): Problem[] {
  return table.rows.flatMap((row, index) => {
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
  });
}

/** Bounds from nominal or in percent lost say nothing without the nominal size. */
function relativeWithoutNominal(table: Table): Problem[] {
  return table.rows.flatMap((row, index) =>
    row.type === 'limit' && (row.boundsOf ?? 'value') !== 'value' && row.nominal === undefined
      ? [
          problem(
            'table-nominal',
            `rows.${index}.nominal`,
            undefined,
            `Bounds of "${row.boundsOf}" need the nominal size`,
            'Give the nominal size, that of the new part, or give the bounds as sizes.',
          ),
        ]
      : [],
  );
}

/** A test or an age rule must say how long: in time, in hours on duty, or both. */
function withoutInterval(table: Table): Problem[] {
  return table.rows.flatMap((row, index) => {
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
  });
}

function endsBeforeItBegins(table: Table): Problem[] {
  const { effectiveFrom, effectiveUntil } = table;
  return effectiveUntil !== undefined && effectiveUntil < effectiveFrom
    ? [
        problem(
          'table-effective',
          'effectiveUntil',
          effectiveUntil,
          `The last day of effect lies before the first, ${effectiveFrom}`,
          'Give a later day, or none for a table without an end.',
        ),
      ]
    : [];
}
