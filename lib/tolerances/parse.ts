import { fail, ok, type Problem, problem, problemsFromIssues, type Result } from '../base/index.ts';
import { ofType } from './ofType.ts';
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
  return ofType(table, 'limit').flatMap(({ row: { keep, repair }, index }) => {
    if (repair === null) return [];
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
  return ofType(table, 'limit').flatMap(({ row: { boundsOf = 'value', nominal }, index }) =>
    boundsOf !== 'value' && nominal === undefined
      ? [
          problem(
            'table-nominal',
            `rows.${index}.nominal`,
            undefined,
            `Bounds of "${boundsOf}" need the nominal size`,
            'Give the nominal size, that of the new part, or give the bounds as sizes.',
          ),
        ]
      : [],
  );
}

function noInterval(field: string, unit: string): Problem {
  return problem(
    'table-interval',
    field,
    undefined,
    'The row does not say how long',
    `Give a number of ${unit}, of hours on duty, or both.`,
  );
}

/** A test or an age rule must say how long: in time, in hours on duty, or both. */
function withoutInterval(table: Table): Problem[] {
  const tests = ofType(table, 'test').filter(
    ({ row }) => (row.withinMonths ?? row.withinHours) === undefined,
  );
  const ages = ofType(table, 'age').filter(({ row }) => (row.upToYears ?? row.upToHours) === undefined);
  return [
    ...tests.map(({ index }) => noInterval(`rows.${index}.withinMonths`, 'months')),
    ...ages.map(({ index }) => noInterval(`rows.${index}.upToYears`, 'years')),
  ];
}

function endsBeforeItBegins(table: Table): Problem[] {
  const { effectiveFrom, effectiveUntil } = table;
  return (effectiveUntil ?? effectiveFrom) < effectiveFrom
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
