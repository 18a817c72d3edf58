import { boundsAsSize, type LimitRow, type Table } from '../tolerances/index.ts';
import { type GlobalRisks, globalRisks } from './globalRisk.ts';
import { acceptanceInterval } from './probability.ts';

/** A size that was measured, mm (mm² for areas), with its standard uncertainty. */
export interface Measured {
  readonly value: number;
  readonly u: number;
}

/** Fewer say too little of how a fleet is spread. */
const MEASURED_MIN = 10;

function median(sorted: readonly number[]): number {
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? 0) + upper) / 2;
}

/**
 * What the keep bounds of a limit do to a fleet: the consumer's risk (kept, though beyond keep) and the producer's (not
 * kept, though within), as shares of all places, by the table's rule of decision (JCGM 106:2012, 9.5). The truths are
 * taken as normal with the mean of the readings and their variance less that of measuring; u is the median. Null below
 * 10 readings, and where measuring explains the whole spread.
 */
export function fleetRisks(
  row: LimitRow,
  decision: Table['decision'],
  measured: readonly Measured[],
): GlobalRisks | null {
  const n = measured.length;
  if (n < MEASURED_MIN) return null;
  const mean = measured.reduce((sum, { value }) => sum + value, 0) / n;
  const variance = measured.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (n - 1);
  const u = median(measured.map((one) => one.u).sort((a, b) => a - b));
  const spread = variance - u ** 2;
  if (!(spread > 0) || u === 0) return null;
  const keep = boundsAsSize(row, row.keep);
  const acceptance = decision.rule === 'guarded' ? acceptanceInterval(keep, u, decision.risk) : keep;
  return globalRisks({ mean, deviation: Math.sqrt(spread) }, u, keep, acceptance);
}
