import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

/** A value read at a time: `x` hours or days, `y` in mm, `u` its standard uncertainty in mm. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
  readonly u: number;
}

/**
 * A straight line through points, about its centre, where level and slope do not depend on each other: at x its value is
 * level + slope · (x − centre), with variance levelVariance + (x − centre)² · slopeVariance.
 */
export interface Line {
  readonly n: number;
  readonly centre: number;
  readonly level: number;
  readonly levelVariance: number;
  readonly slope: number;
  readonly slopeVariance: number;
  /** Variance of one reading of weight 1: about 1 with stated uncertainties, the residual variance without. */
  readonly unitVariance: number;
  /** Degrees of freedom of the variances; null where the uncertainties are stated, so that they are known. */
  readonly freedom: number | null;
}

/** Quantiles of the normal distribution: 95 % lie below the first, and within ± the second. */
export const Z_ONE_SIDED_95 = 1.6448536269514722;
export const Z_TWO_SIDED_95 = 1.959963984540054;

/** Weights: of stated uncertainties 1/u²; alike where the scatter about the line says how sure readings are. */
export type Spread = 'stated' | 'from residuals';

/**
 * Weighted least squares with centred sums (Draper & Smith, Applied Regression Analysis, from memory; checked against
 * NIST's Norris data). Stated uncertainties are widened together by Birge's ratio √(χ²/(n − 2)) where the points scatter
 * more about the line than they state, and never narrowed. Fails for fewer than two points, for points all at one x,
 * and for uncertainties that are not positive; two points have no residuals to take a spread from.
 */
export function fitLine(points: readonly LinePoint[], spread: Spread): Result<Line, Problem> {
  const n = points.length;
  const wrong = points.find(({ x, y, u }) => !Number.isFinite(x + y) || !(spread !== 'stated' || u > 0));
  if (wrong !== undefined) {
    return fail(
      problem(
        'line-point',
        'points',
        wrong,
        'A point needs numbers and a positive uncertainty',
        'Correct it.',
      ),
    );
  }
  if (n < (spread === 'stated' ? 2 : 3)) {
    return fail(
      problem('line-few', 'points', n, 'Too few points for a line and its spread', 'Measure it again later.'),
    );
  }
  const weights = points.map(({ u }) => (spread === 'stated' ? 1 / u ** 2 : 1));
  const sum = (of: (point: LinePoint) => number) =>
    points.reduce((so, point, i) => so + (weights[i] ?? 0) * of(point), 0);
  const total = sum(() => 1);
  const centre = sum(({ x }) => x) / total;
  const level = sum(({ y }) => y) / total;
  const across = sum(({ x }) => (x - centre) ** 2);
  if (!(across > 0)) {
    return fail(
      problem('line-one-x', 'points', centre, 'All points are of one time', 'Measure it again later.'),
    );
  }
  const slope = sum(({ x, y }) => (x - centre) * (y - level)) / across;
  const squares = sum(({ x, y }) => (y - level - slope * (x - centre)) ** 2);
  const freedom = n - 2;
  const unitVariance =
    spread === 'from residuals' ? squares / freedom : freedom > 0 ? Math.max(1, squares / freedom) : 1;
  return ok({
    n,
    centre,
    level,
    levelVariance: unitVariance / total,
    slope,
    slopeVariance: unitVariance / across,
    unitVariance,
    freedom: spread === 'stated' ? null : freedom,
  });
}

/** The value of a line at `x` and its standard uncertainty. */
export function lineAt(line: Line, x: number): { readonly value: number; readonly u: number } {
  const away = x - line.centre;
  return {
    value: line.level + line.slope * away,
    u: Math.sqrt(line.levelVariance + away ** 2 * line.slopeVariance),
  };
}

/** How many standard uncertainties to either side hold `confidence` of the truth (Student’s t; 0 < confidence < 1). */
export function spanOf({ freedom }: Pick<Line, 'freedom'>, confidence = 0.95): number {
  // With this many degrees of freedom t and the normal distribution are the same to six digits.
  return tQuantile((1 + confidence) / 2, freedom ?? 1e9);
}
