import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { Class, RuleCited } from './finding.ts';
import { judgePlace, sizeLimits } from './judgePlace.ts';

/**
 * The class of a single value with standard uncertainty `u` (mm, or mm² for areas) under one row: that of the finding
 * which `judgeLimits` gives for such a reading, without its sentences. For whoever tries many values.
 */
export function classUnder(
  { table, row }: RowInTable<LimitRow>,
  noRework: RuleCited | null,
): (value: number, u: number) => Class {
  const limits = sizeLimits(row);
  const { decision } = table;
  const forbidden = row.repairNeeds === 'rework' && noRework !== null;
  return (value, u) => {
    const bearing = [{ value, u, birgeRatio: 1, readings: [] }];
    const takes = { bearing, alone: [], disagreeing: [] };
    const judged = judgePlace({ clock: null, readings: [], groups: [], takes }, limits, decision);
    const plain = decision.rule === 'guarded' ? judged.guardedClass : judged.simpleClass;
    return plain === 'repair' && forbidden ? 'scrap' : plain;
  };
}
