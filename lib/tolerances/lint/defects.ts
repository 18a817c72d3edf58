import { type Indexed, ofType } from '../ofType.ts';
import { type Place, placesOf } from '../reach.ts';
import type { DefectRow, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';
import { pairsOf } from './pairing.ts';

/** Whether two places meet; a row of any zone meets a row of a named one. */
function meet(a: Place, b: Place): boolean {
  return (
    a.component === b.component &&
    a.diameterCode === b.diameterCode &&
    (a.zone === null || b.zone === null || a.zone === b.zone)
  );
}

function saySame(a: DefectRow, b: DefectRow): boolean {
  return a.verdict === b.verdict && a.repairUpToMm === b.repairUpToMm && a.repairUpToMm2 === b.repairUpToMm2;
}

function defectPair(table: Table, { row: a }: Indexed<DefectRow>, other: Indexed<DefectRow>): LintFinding[] {
  const { row: b, index } = other;
  const kinds = a.defects.filter((kind) => b.defects.includes(kind)).join(', ');
  const where = placesOf(table, b);
  if (kinds === '' || !placesOf(table, a).some((place) => where.some((one) => meet(place, one)))) return [];
  const base = { severity: 'warning', rows: [a.row, b.row], field: `rows.${index}` } as const;
  return [
    saySame(a, b)
      ? {
          ...base,
          lint: 'overlap',
          message: `Both rows say the same of ${kinds}`,
          wayOut: 'Keep one of them.',
        }
      : {
          ...base,
          lint: 'contradiction',
          message: `The rows say different things of ${kinds} in the same place; the stricter will win`,
          wayOut: 'Let them speak of different zones or parts, or keep one.',
        },
  ];
}

/** Rows that speak of the same defect in the same place. */
export function defectPairs(table: Table): LintFinding[] {
  return pairsOf(ofType(table, 'defect')).flatMap(([a, b]) => defectPair(table, a, b));
}
