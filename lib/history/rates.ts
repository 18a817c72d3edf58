import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

/** A rate or share with its exact interval. */
export interface Rate {
  readonly value: number;
  readonly interval: readonly [low: number, high: number];
}

const HALVINGS = 200;

/** The place between `low` and `high` where `isBelow` stops holding, by halving. */
function turning(low: number, high: number, isBelow: (value: number) => boolean): number {
  let [from, to] = [low, high];
  for (let step = 0; step < HALVINGS; step += 1) {
    const middle = (from + to) / 2;
    if (isBelow(middle)) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}

/** Probability of at most `count` where `mean` are expected (Poisson); terms by their logarithms, so that none is lost. */
function poissonUpTo(count: number, mean: number): number {
  if (count < 0) return 0;
  if (mean === 0) return 1;
  let [log, sum] = [-mean, 0];
  for (let k = 0; k <= count; k += 1) {
    sum += Math.exp(log);
    log += Math.log(mean) - Math.log(k + 1);
  }
  return Math.min(1, sum);
}

/** Probability of at most `count` of `n` with probability `p` each (binomial). */
function binomialUpTo(count: number, n: number, p: number): number {
  if (count < 0) return 0;
  if (count >= n || p <= 0) return 1;
  if (p >= 1) return 0;
  let [log, sum] = [n * Math.log1p(-p), 0];
  for (let k = 0; k <= count; k += 1) {
    sum += Math.exp(log);
    log += Math.log(n - k) - Math.log(k + 1) + Math.log(p) - Math.log1p(-p);
  }
  return Math.min(1, sum);
}

function wholeOrRefused(field: string, count: number, least: number): Result<true, Problem> {
  return Number.isInteger(count) && count >= least
    ? ok(true)
    : fail(problem('rate-count', field, count, `Expected a whole number from ${least}`, 'Count again.'));
}

/**
 * Events per unit of exposure with the exact Poisson interval (Garwood, Biometrika 28, 1936): the means under which `count`
 * or fewer, and `count` or more, have half of 1 − confidence. Fails for a count that is no whole number from 0 and for an
 * exposure that is not positive.
 */
export function poissonRate(count: number, exposure: number, confidence = 0.95): Result<Rate, Problem> {
  const whole = wholeOrRefused('count', count, 0);
  if (!whole.ok) return whole;
  if (!(exposure > 0)) {
    return fail(
      problem('rate-exposure', 'exposure', exposure, 'Nothing was inspected', 'Choose a longer period.'),
    );
  }
  const tail = (1 - confidence) / 2;
  // Forty standard deviations and as many events more hold any tail that is asked for.
  const far = count + 40 * Math.sqrt(count) + 40;
  const low = count === 0 ? 0 : turning(0, far, (mean) => 1 - poissonUpTo(count - 1, mean) < tail);
  const high = turning(0, far, (mean) => poissonUpTo(count, mean) > tail);
  return ok({ value: count / exposure, interval: [low / exposure, high / exposure] });
}

/**
 * A share with the exact binomial interval (Clopper & Pearson, Biometrika 26, 1934). Fails for none of none, for more
 * than all, and for counts that are no whole numbers from 0.
 */
export function binomialShare(count: number, of: number, confidence = 0.95): Result<Rate, Problem> {
  const whole = wholeOrRefused('count', count, 0);
  if (!whole.ok) return whole;
  const all = wholeOrRefused('of', of, Math.max(1, count));
  if (!all.ok) return all;
  const tail = (1 - confidence) / 2;
  const low = count === 0 ? 0 : turning(0, 1, (p) => 1 - binomialUpTo(count - 1, of, p) < tail);
  const high = count === of ? 1 : turning(0, 1, (p) => binomialUpTo(count, of, p) > tail);
  return ok({ value: count / of, interval: [low, high] });
}
