import { medianOf, spreadOf } from './grey.ts';

/** A straight line over the places along a side: offset + slope · along, px. */
export interface FittedLine {
  readonly offset: number;
  readonly slope: number;
  /** Places that count: those with a weight above 0. */
  readonly used: number;
  /** Standard uncertainty of the line’s offset at a place, px. */
  uAt(along: number): number;
}

interface Place {
  readonly along: number;
  readonly off: number;
  /** Standard uncertainty of `off` by itself, px. */
  readonly uPx: number;
}

/** Where Tukey’s weights reach 0, in standard deviations: 95 % efficient for normal scatter. */
const TUKEY = 4.685;
const ROUNDS = 20;
/** Scatter below this is rounding, px. */
const SCATTER_MIN_PX = 0.02;

/** Median of the slopes between all pairs of places (Theil 1950, Sen 1968): right with up to 29 % wrong places. */
function startOf(places: readonly Place[]): { slope: number; offset: number } {
  const slopes: number[] = [];
  for (const [i, a] of places.entries()) {
    for (const b of places.slice(i + 1)) slopes.push((b.off - a.off) / (b.along - a.along));
  }
  const slope = medianOf(slopes);
  return { slope, offset: medianOf(places.map(({ along, off }) => off - slope * along)) };
}

/**
 * Straight line through places with a few wrong ones: start by Theil and Sen, then least squares with Tukey’s weights
 * (Huber and Ronchetti, Robust Statistics, 2nd ed., 4.8 and 7.8), the scale from the median of the residuals.
 * Uncertainty by the weighted covariance times the scatter, or times the places’ own uncertainty where that is larger
 * (few places that share pixels scatter too little); `overlap` is how many neighbours tell the same and makes it larger
 * by its root. Null for fewer than `least` places that count.
 */
export function fitLine(places: readonly Place[], overlap: number, least: number): FittedLine | null {
  if (places.length < least) return null;
  let { slope, offset } = startOf(places);
  let [s0, s1, s2, squares, used] = [0, 0, 0, 0, 0];
  for (let round = 0; round < ROUNDS; round += 1) {
    const residuals = places.map(({ along, off }) => off - offset - slope * along);
    const scale = Math.max(SCATTER_MIN_PX, spreadOf(residuals));
    let [t0, t1] = [0, 0];
    [s0, s1, s2, squares, used] = [0, 0, 0, 0, 0];
    for (const [i, { along, off }] of places.entries()) {
      const away = (residuals[i] ?? 0) / (TUKEY * scale);
      if (Math.abs(away) >= 1) continue;
      const weight = (1 - away * away) ** 2;
      used += 1;
      s0 += weight;
      s1 += weight * along;
      s2 += weight * along * along;
      t0 += weight * off;
      t1 += weight * along * off;
      squares += weight * (residuals[i] ?? 0) ** 2;
    }
    const determinant = s0 * s2 - s1 * s1;
    if (used < least || !(determinant > 0)) return null;
    slope = (s0 * t1 - s1 * t0) / determinant;
    offset = (s2 * t0 - s1 * t1) / determinant;
  }
  const determinant = s0 * s2 - s1 * s1;
  const scatter = squares / (s0 - 2 * (s0 / used));
  const variance = overlap * Math.max(scatter, medianOf(places.map(({ uPx }) => uPx)) ** 2);
  return {
    offset,
    slope,
    used,
    uAt: (along) => Math.sqrt((variance * (s2 - 2 * along * s1 + along * along * s0)) / determinant),
  };
}
