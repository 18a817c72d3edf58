import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { Class, RuleCited } from './finding.ts';
import { classOfValue, sizeLimits } from './judgePlace.ts';

/**
 * The class of a single value with standard uncertainty `u` (mm, or mm² for areas) under one row: that of the finding
 * which `judgeLimits` would give, without its sentences. For whoever tries many values.
 */
export function classUnder(
  { table, row }: RowInTable<LimitRow>,
  noRework: RuleCited | null,
): (value: number, u: number) => Class {
  const limits = sizeLimits(row);
  const forbidden = row.repairNeeds === 'rework' && noRework !== null;
  return (value, u) => {
    const plain = classOfValue(value, u, limits, table.decision);
    return plain === 'repair' && forbidden ? 'scrap' : plain;
  };
}
