import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { Z_ONE_SIDED_95 } from './line.ts';

/** A slope with its variance. */
export interface SlopeOf {
  readonly slope: number;
  readonly variance: number;
}

/** How slopes are spread over a fleet. */
export interface FleetSlopes {
  readonly count: number;
  readonly mean: number;
  readonly meanVariance: number;
  /** Variance between components, beyond what the uncertainty of each explains; 0 where none shows. */
  readonly between: number;
  /** Cochran's Q of the slopes about their mean. */
  readonly Q: number;
}

/**
 * Normal–normal empirical Bayes: the variance between components by the moment estimate of DerSimonian & Laird
 * (Controlled Clinical Trials 7, 1986, 177–188), cut at zero, and the mean with weights 1/(variance + between). Null for
 * fewer than two slopes.
 */
export function fleetSlopes(slopes: readonly SlopeOf[]): FleetSlopes | null {
  const count = slopes.length;
  if (count < 2) return null;
  const weighted = (between: number) => {
    const weights = slopes.map(({ variance }) => 1 / (variance + between));
    const sum = weights.reduce((so, w) => so + w, 0);
    const squares = weights.reduce((so, w) => so + w ** 2, 0);
    const mean = slopes.reduce((so, { slope }, i) => so + (weights[i] ?? 0) * slope, 0) / sum;
    return { weights, sum, squares, mean };
  };
  const fixed = weighted(0);
  const Q = slopes.reduce((so, { slope }, i) => so + (fixed.weights[i] ?? 0) * (slope - fixed.mean) ** 2, 0);
  const between = Math.max(0, (Q - (count - 1)) / (fixed.sum - fixed.squares / fixed.sum));
  const { mean, sum } = weighted(between);
  return { count, mean, meanVariance: 1 / sum, between, Q };
}

/** What is expected of the slope of one more component. */
export interface Prior extends SlopeOf {
  /** On how many components it rests. */
  readonly count: number;
}

/** Fewer other components than this are no fleet: their spread is not known. Own choice. */
export const FLEET_MIN = 4;

/**
 * What a fleet leads one to expect of one more component: its mean, with the variance between components and that of the
 * mean. Because the spread of a few is itself uncertain the variance is widened as the prediction interval of Higgins,
 * Thompson & Spiegelhalter is (J. R. Stat. Soc. A 172, 2009, 137–159): by (t/z)² at 95 % with count − 2 degrees of
 * freedom. Null for fewer than `FLEET_MIN` components.
 */
export function priorOf(fleet: FleetSlopes | null): Prior | null {
  if (fleet === null || fleet.count < FLEET_MIN) return null;
  const widened = (tQuantile(0.95, fleet.count - 2) / Z_ONE_SIDED_95) ** 2;
  return {
    slope: fleet.mean,
    variance: widened * (fleet.between + fleet.meanVariance),
    count: fleet.count,
  };
}

/**
 * The slope of a component put together from its own and what the fleet leads one to expect: the mean and variance of
 * the normal posterior. `share` is how much of it is its own, from 0 to 1.
 */
export function shrunk(own: SlopeOf, prior: SlopeOf): SlopeOf & { readonly share: number } {
  const total = own.variance + prior.variance;
  if (total === 0) return { ...own, share: 1 };
  const share = prior.variance / total;
  return {
    slope: share * own.slope + (1 - share) * prior.slope,
    variance: (own.variance * prior.variance) / total,
    share,
  };
}
