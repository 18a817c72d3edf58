import { type Line, lineAt, spanOf } from './line.ts';

/** Where a line reaches a value. */
export interface LineReach {
  /** Where the line itself does. */
  readonly estimate: number;
  /** Standard uncertainty to first order. */
  readonly se: number;
  /** Exact interval, not symmetric; null when the slope is too uncertain for a finite one. */
  readonly interval: readonly [low: number, high: number] | null;
}

/**
 * Where a line reaches `target`, with Fieller's exact interval (Graybill & Iyer, Regression Analysis, 1994; Greenwell &
 * Schubert Kabban, R Journal 6, 2014): all x at which the target lies within the interval of the line. `targetVariance` is
 * that of the target itself: 0 for a limit, the variance of one reading over m for the mean of m readings. With
 * g = t² · slopeVariance/slope² ≥ 1 the slope cannot be told from zero and no finite interval exists. A flat line
 * reaches nothing: null.
 */
export function whereLineReaches(
  line: Line,
  target: number,
  { targetVariance = 0, confidence = 0.95 }: { targetVariance?: number; confidence?: number } = {},
): LineReach | null {
  if (line.slope === 0) return null;
  const { slope, slopeVariance, centre } = line;
  const above = target - line.level;
  const away = above / slope;
  const variance = line.levelVariance + targetVariance;
  const span2 = spanOf(line, confidence) ** 2;
  const lead = slope ** 2 - span2 * slopeVariance;
  const root = Math.sqrt(Math.max(0, span2 * (variance * lead + above ** 2 * slopeVariance)));
  const ends = [(slope * above - root) / lead, (slope * above + root) / lead].sort((a, b) => a - b);
  const [low = 0, high = 0] = ends;
  return {
    estimate: centre + away,
    se: Math.sqrt(variance + away ** 2 * slopeVariance) / Math.abs(slope),
    interval: lead > 0 ? [centre + low, centre + high] : null,
  };
}

/**
 * The least x at which one reading can be told from one taken at x = 0, one-sided (DIN 32645, decision limit; ISO 11843-2):
 * where the line reaches the upper bound of a reading at zero. Null for a flat line.
 */
export function leastTold(line: Line, confidence = 0.95): number | null {
  if (line.slope === 0) return null;
  const { u } = lineAt(line, 0);
  // One-sided: the same quantile as two-sided with twice the doubt.
  const span = spanOf(line, 2 * confidence - 1);
  return (span * Math.hypot(u, Math.sqrt(line.unitVariance))) / Math.abs(line.slope);
}

/** What a band is made of, beside its line. */
export interface Band {
  readonly line: Pick<Line, 'centre' | 'level' | 'levelVariance' | 'slope' | 'slopeVariance'>;
  /** Variance that is the same everywhere: that of one reading, and of the limit it is held against. */
  readonly constantVariance: number;
  /** 1: larger is worse, and the band's upper edge counts. −1: smaller is worse. */
  readonly worse: 1 | -1;
  /** How many standard uncertainties the edge lies from the line. */
  readonly z: number;
}

/** The worse edge of a band at `x`. */
export function edgeAt({ line, constantVariance, worse, z }: Band, x: number): number {
  const { value, u } = lineAt({ ...line, n: 0, unitVariance: 1, freedom: null }, x);
  return value + worse * z * Math.hypot(u, Math.sqrt(constantVariance));
}

/**
 * The first x from `from` on at which the worse edge of a band reaches `limit`; null when it does not up to `until`. The
 * edge is a convex function of x, so that between a place where it has not reached the limit and a later one where it
 * has there is one crossing; it is found by halving, to the last bit.
 */
export function whereBandReaches(band: Band, limit: number, from: number, until: number): number | null {
  const isThere = (x: number) => band.worse * (edgeAt(band, x) - limit) >= 0;
  if (isThere(from)) return from;
  if (!isThere(until)) return null;
  let [before, after] = [from, until];
  for (;;) {
    const middle = (before + after) / 2;
    if (middle <= before || middle >= after) return after;
    if (isThere(middle)) after = middle;
    else before = middle;
  }
}
