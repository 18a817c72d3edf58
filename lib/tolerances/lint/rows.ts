import { must } from '../../base/index.ts';
import { characteristicOf } from '../../readings/index.ts';
import { DIAMETER_CODES } from '../../wheel/index.ts';
import { codesIn, componentsOf, placesOfLimit } from '../reach.ts';
import type { LimitRow, Row, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';

type Place = Pick<LintFinding, 'field' | 'message' | 'wayOut'>;

function noDiameter(row: Row): Omit<Place, 'field'> | null {
  if (codesIn(row.diameterCodes).length > 0) return null;
  const { min, max } = must(row.diameterCodes, row.row);
  return {
    message: `No diameter code of earthmover rims lies between ${min} and ${max}`,
    wayOut: `Give a range that takes in some of ${DIAMETER_CODES.join(', ')}.`,
  };
}

function notTakenThere(row: LimitRow): Omit<Place, 'field'> {
  const { label, zones } = characteristicOf(row.characteristic);
  const where = Object.entries(zones).map(([kind, list]) => `${kind} (${list.join(', ')})`);
  return {
    message: `${label} is not taken in the places this row names`,
    wayOut: `It is taken on: ${where.join('; ')}. Correct components, zones, states or diameterCodes.`,
  };
}

function whyNothing(table: Table, row: Row, field: string): Place | null {
  const diameter = noDiameter(row);
  if (diameter !== null) return { field: `${field}.diameterCodes`, ...diameter };
  if (componentsOf(table, row).length === 0) {
    return {
      field: `${field}.components`,
      message: 'None of these components is in the scope of the table',
      wayOut: 'Name other components, or widen the scope.',
    };
  }
  if (row.type !== 'limit' || placesOfLimit(table, row).length > 0) return null;
  return { field, ...notTakenThere(row) };
}

/** Rows that speak of no part at all. */
export function reachesNothing(table: Table): LintFinding[] {
  return table.rows.flatMap((row, index): LintFinding[] => {
    const why = whyNothing(table, row, `rows.${index}`);
    return why === null ? [] : [{ lint: 'reaches nothing', severity: 'error', rows: [row.row], ...why }];
  });
}

/** Kinds of source that somebody else could look up. */
const TO_BE_FOUND: readonly Row['source']['kind'][] = ['published', 'maker', 'site'];

/** Sources that a reader could not find again. */
export function sources(table: Table): LintFinding[] {
  return table.rows.flatMap(({ row, source: { kind, section, page, edition } }, index): LintFinding[] => {
    if (!TO_BE_FOUND.includes(kind)) return [];
    const base = { lint: 'source', severity: 'warning', rows: [row] } as const;
    const found: LintFinding[] = [];
    if (section === '' && page === '') {
      found.push({
        ...base,
        field: `rows.${index}.source.section`,
        message: `A ${kind} source without section or page cannot be found again`,
        wayOut: 'Give the section or the page, or mark the source "from memory".',
      });
    }
    if (edition === '') {
      found.push({
        ...base,
        field: `rows.${index}.source.edition`,
        message: `A ${kind} source without its edition cannot be checked later`,
        wayOut: 'Give the edition or the date of issue.',
      });
    }
    return found;
  });
}
