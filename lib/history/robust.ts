import { normalCdf } from '../units/index.ts';
import { Z_TWO_SIDED_95 } from './line.ts';

/** A slope that hangs on no single reading, and a test of whether there is a trend at all. */
export interface RobustSlope {
  /** Median of the slopes of all pairs. */
  readonly slope: number;
  readonly intercept: number;
  /** About 95 %. */
  readonly interval: readonly [low: number, high: number];
  readonly tau: number;
  readonly z: number;
  /** Two-sided. */
  readonly p: number;
}

interface Place {
  readonly x: number;
  readonly y: number;
}

function medianOf(sorted: readonly number[]): number {
  const half = sorted.length / 2;
  return ((sorted[Math.floor(half)] ?? Number.NaN) + (sorted[Math.ceil(half) - 1] ?? Number.NaN)) / 2;
}

function at(sorted: readonly number[], rank: number): number {
  const place = Math.min(Math.max(rank, 1), sorted.length);
  const low = sorted[Math.floor(place) - 1] ?? Number.NaN;
  const high = sorted[Math.ceil(place) - 1] ?? Number.NaN;
  return low + (place - Math.floor(place)) * (high - low);
}

/** Sum over groups of equal values of t(t − 1)(2t + 5). */
function tiesIn(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()].reduce((sum, t) => sum + t * (t - 1) * (2 * t + 5), 0);
}

/** From this many points on a robust slope says something; own choice. */
export const ROBUST_MIN = 5;

/**
 * Theil–Sen line (Theil 1950, Sen 1968) and Kendall's test of trend with continuity correction and the variance corrected
 * for ties, as in US EPA 530/R-09-007, example 17-6: pairs of one x are left out; the interval interpolates between ordered
 * slopes; intercept: median of y − slope · median of x. Null for fewer than `ROBUST_MIN` points, or all at one x.
 */
export function robustSlope(points: readonly Place[]): RobustSlope | null {
  const n = points.length;
  const slopes: number[] = [];
  let score = 0;
  for (const [i, one] of points.entries()) {
    for (const other of points.slice(i + 1)) {
      if (other.x === one.x) continue;
      slopes.push((other.y - one.y) / (other.x - one.x));
      score += Math.sign((other.y - one.y) * (other.x - one.x));
    }
  }
  if (n < ROBUST_MIN || slopes.length === 0) return null;
  slopes.sort((a, b) => a - b);
  const sorted = (of: (point: Place) => number) => points.map(of).sort((a, b) => a - b);
  const [xs, ys] = [sorted(({ x }) => x), sorted(({ y }) => y)];
  const ties = tiesIn(xs) + tiesIn(ys);
  const sd = Math.sqrt(Math.max(0, (n * (n - 1) * (2 * n + 5) - ties) / 18));
  const z = sd === 0 ? 0 : (Math.sign(score) * Math.max(0, Math.abs(score) - 1)) / sd;
  const slope = medianOf(slopes);
  const away = Z_TWO_SIDED_95 * sd;
  return {
    slope,
    intercept: medianOf(ys) - slope * medianOf(xs),
    interval: [at(slopes, (slopes.length - away) / 2), at(slopes, (slopes.length + away) / 2 + 1)],
    tau: score / ((n * (n - 1)) / 2),
    z,
    p: 2 * normalCdf(-Math.abs(z)),
  };
}
