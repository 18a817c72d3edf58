import { mean } from '../base/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { ReadingGroup } from './finding.ts';
import { naturally } from './order.ts';
import { probabilityOfChiSquared } from './probability.ts';

/** A mean with its standard uncertainty, one unit throughout. */
export interface Mean {
  readonly value: number;
  readonly u: number;
}

/** A combined mean with what it was widened by. */
export interface Combined extends Mean {
  /** max(1, √(χ² / (G − 1))); 1 for a single group, and where u is 0 and no ratio can be given. */
  readonly birgeRatio: number;
}

/** Σ(x − middle)². */
function squaresAbout(values: readonly number[], middle: number): number {
  return values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
}

/** Sample standard deviation, divisor n − 1 (JCGM 100 4.2.2); 0 for a single value. */
export function sampleDeviation(values: readonly number[]): number {
  return values.length < 2 ? 0 : Math.sqrt(squaresAbout(values, mean(values)) / (values.length - 1));
}

/**
 * Repeats with one instrument: their mean, and the spread of the mean s/√n (type A, JCGM 100 4.2) in quadrature with
 * the largest standard uncertainty among the readings, which is the instrument's own and not lessened by averaging.
 */
function groupOf(readings: readonly ReadingEvidence[]): ReadingGroup {
  const n = readings.length;
  const values = readings.map((reading) => reading.valueMm);
  const value = mean(values);
  const spread = n > 1 ? Math.sqrt(squaresAbout(values, value) / (n - 1) / n) : 0;
  const instrumentU = Math.max(...readings.map((reading) => reading.uMm));
  return {
    method: readings[0]?.method ?? 'gauge',
    instrument: readings[0]?.instrument?.name ?? null,
    value,
    u: Math.hypot(instrumentU, spread),
    repeats: n,
    readings: readings.map((reading) => reading.id).sort(),
  };
}

/**
 * The readings at one place by instrument: one list for each name, one for readings without a named instrument, one for
 * sizes from photos. The order of the readings does not matter: they are given in the order of the ids.
 */
export function byInstrument(readings: readonly ReadingEvidence[]): ReadingEvidence[][] {
  const lists = new Map<string, ReadingEvidence[]>();
  for (const reading of naturally(readings)) {
    const key = `${reading.method}|${reading.instrument === null ? 0 : 1}|${reading.instrument?.name ?? ''}`;
    lists.set(key, [...(lists.get(key) ?? []), reading]);
  }
  return [...lists].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, list]) => list);
}

/** The readings at one place by instrument, each list put together. */
export function groupsAt(readings: readonly ReadingEvidence[]): ReadingGroup[] {
  return byInstrument(readings).map(groupOf);
}

/** Weights 1/u² relative to the largest of them; where any u is 0, their limit: 1 for those groups and 0 for the rest. */
function weightsOf(groups: readonly Mean[]): number[] {
  const least = Math.min(...groups.map((group) => group.u));
  return groups.map(({ u }) => (u === least ? 1 : (least / u) ** 2));
}

/**
 * Puts the means of different instruments together: the mean weighted by 1/u², u = 1/√Σ(1/u²), widened by the Birge
 * ratio max(1, √(χ²/(G − 1))) where the groups differ by more than their u explain. Sources, from memory: R. T. Birge,
 * Phys. Rev. 40 (1932) 207; W. G. Cochran, Biometrics 10 (1954) 101; used for key comparisons, M. G. Cox, Metrologia
 * 39 (2002) 589. Groups with u = 0 are treated as the limit of the same formulas for u → 0: the value is their plain
 * mean, and its u is 0 unless they differ among themselves. A single group is given back as it is. Throws without any.
 */
export function combine(groups: readonly Mean[]): Combined {
  const [first] = groups;
  if (first === undefined) throw new Error('Broken invariant: nothing to combine');
  if (groups.length === 1) return { value: first.value, u: first.u, birgeRatio: 1 };
  const weights = weightsOf(groups);
  const weighted = (of: (group: Mean) => number) =>
    groups.reduce((sum, group, i) => sum + (weights[i] ?? 0) * of(group), 0);
  const total = weighted(() => 1);
  const value = weighted((group) => group.value) / total;
  const plainU = Math.min(...groups.map((group) => group.u)) / Math.sqrt(total);
  // The plain u times √(χ²/(G − 1)), written so that it holds for u = 0 too.
  const widenedU = Math.sqrt(weighted((group) => (group.value - value) ** 2) / (total * (groups.length - 1)));
  const ratio = widenedU / plainU;
  const birgeRatio = Number.isFinite(ratio) ? Math.max(1, ratio) : 1;
  return { value, u: Math.max(plainU, widenedU), birgeRatio };
}

/** Groups disagree where χ² is beyond its 95 % quantile (as for key comparisons, Cox 2002, from memory). */
const DISAGREEMENT = 0.05;

/**
 * Whether groups differ by no more than their u explain: χ² = Σ((x − mean)/u)² about their weighted mean does not exceed
 * its 95 % quantile for G − 1 degrees of freedom. A single group agrees with itself.
 */
export function agree(groups: readonly Mean[]): boolean {
  if (groups.length < 2) return true;
  const { value } = combine(groups);
  const rounding = 1e-12 * Math.max(1, Math.abs(value));
  const chiSquared = groups.reduce((sum, group) => {
    const off = Math.abs(group.value - value);
    return off <= rounding ? sum : sum + (off / group.u) ** 2;
  }, 0);
  return probabilityOfChiSquared(chiSquared, groups.length - 1) >= DISAGREEMENT;
}
