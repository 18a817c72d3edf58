import { DefectKind } from '../../marks/index.ts';
import { type Indexed, ofType } from '../ofType.ts';
import { bitsOf, type Reach, reachesMeet, reachOf } from '../reach.ts';
import type { DefectRow, Table } from '../table.ts';
import { forPairs, type PairFinding, type Telling } from './pairing.ts';

/** A rule on defects with the places and the kinds it speaks of. */
interface DefectAt extends Indexed<DefectRow> {
  readonly reach: Reach;
  readonly kinds: number;
}

function saySame(a: DefectRow, b: DefectRow): boolean {
  return a.verdict === b.verdict && a.repairUpToMm === b.repairUpToMm && a.repairUpToMm2 === b.repairUpToMm2;
}

function together({ row: a }: DefectAt, { row: b, index }: DefectAt): PairFinding {
  const kinds = a.defects.filter((kind) => b.defects.includes(kind)).join(', ');
  const base = { rows: [a.row, b.row], field: `rows.${index}` };
  if (saySame(a, b)) {
    return {
      ...base,
      lint: 'overlap',
      message: `Both rows say the same of ${kinds}`,
      wayOut: 'Keep one of them.',
    };
  }
  return {
    ...base,
    lint: 'contradiction',
    message: `The rows say different things of ${kinds} in the same place; the stricter will win`,
    wayOut: 'Let them speak of different zones or parts, or keep one.',
  };
}

/** Rows that speak of the same defect in the same place. */
export function defectPairs(table: Table, telling: Telling): void {
  const rules = ofType(table, 'defect').map(
    (one): DefectAt => ({
      ...one,
      reach: reachOf(table, one.row),
      kinds: bitsOf(DefectKind.options, one.row.defects),
    }),
  );
  forPairs(rules, (a, b) => {
    if ((a.kinds & b.kinds) === 0 || !reachesMeet(a.reach, b.reach)) return;
    telling.tell('warning', a, b, together);
  });
}
