import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { Class, RuleCited } from './finding.ts';
import { judge, sizeLimits } from './limits.ts';

/**
 * The class of a single value with standard uncertainty `u` (mm, or mm² for areas) under one row: that of the finding
 * which `judgeLimits` gives for such a reading, without its sentences. For whoever tries many values.
 */
export function classUnder(
  { table, row }: RowInTable<LimitRow>,
  noRework: RuleCited | null,
): (value: number, u: number) => Class {
  const limits = sizeLimits(row);
  const { rule, risk } = table.decision;
  const forbidden = row.repairNeeds === 'rework' && noRework !== null;
  return (value, u) => {
    const judged = judge({ clock: null, value, u, repeats: 1, readings: [] }, limits, risk);
    const plain = rule === 'guarded' ? judged.guardedClass : judged.simpleClass;
    return plain === 'repair' && forbidden ? 'scrap' : plain;
  };
}
