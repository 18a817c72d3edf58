import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { normalCdf } from '../units/index.ts';

/** A reading, or of one that was “less than”, what it was less than. */
export interface MaybeBelow {
  readonly value: number;
  readonly below: boolean;
}

/** Mean and spread of normal values of which some are only known to lie below a limit. */
export interface CensoredMean {
  readonly mean: number;
  readonly sd: number;
  /** Profile likelihood: not symmetric. */
  readonly interval: readonly [low: number, high: number];
  readonly belowShare: number;
}

/** Half of the quantile of χ² with one degree of freedom that 95 % lie below. */
const DROP_95 = 3.841458820694124 / 2;
const STEPS = 120;

/**
 * Mean and standard deviation by maximum likelihood of a normal distribution, left-censored (Cohen 1959; US EPA
 * 530/R-09-007, chapter 15), with the 95 % interval of the mean by profile likelihood. To put the limit, or zero, in the
 * place of such a reading would bias both. For values that are normal in their logarithm pass the logarithms. Fails with
 * fewer than three values that were read, or with no spread among them.
 */
export function censoredMean(readings: readonly MaybeBelow[]): Result<CensoredMean, Problem> {
  const wrong = readings.find(({ value }) => !Number.isFinite(value));
  const seen = readings.filter(({ below }) => !below).map(({ value }) => value);
  const spread = Math.max(...seen) - Math.min(...seen);
  if (wrong !== undefined || seen.length < 3 || !(spread > 0)) {
    return fail(
      problem(
        'censored-few',
        'readings',
        wrong?.value ?? seen.length,
        wrong === undefined ? 'Too few values that differ were read' : 'A reading is no number',
        'Measure it again with a finer gauge.',
      ),
    );
  }
  const likelihood = (mean: number, sd: number) =>
    readings.reduce((sum, { value, below }) => {
      const z = (value - mean) / sd;
      return sum + (below ? Math.log(Math.max(normalCdf(z), Number.MIN_VALUE)) : -Math.log(sd) - (z * z) / 2);
    }, 0);
  const all = readings.map(({ value }) => value);
  const [least, most] = [Math.min(...all), Math.max(...all)];
  const reach = most - least;
  const bestSd = (mean: number) =>
    Math.exp(highest((log) => likelihood(mean, Math.exp(log)), Math.log(reach / 1e4), Math.log(reach * 10)));
  const profile = (mean: number) => likelihood(mean, bestSd(mean));
  const mean = highest(profile, least - 3 * reach, most);
  const floor = profile(mean) - DROP_95;
  const end = (outer: number) => {
    let [inside, outside] = [mean, outer];
    for (let step = 0; step < STEPS; step += 1) {
      const middle = (inside + outside) / 2;
      if (profile(middle) >= floor) inside = middle;
      else outside = middle;
    }
    return inside;
  };
  return ok({
    mean,
    sd: bestSd(mean),
    interval: [end(mean - 20 * reach), end(mean + 20 * reach)],
    belowShare: 1 - seen.length / readings.length,
  });
}

/** Where a function with one hill is highest between two places, by golden section. */
function highest(of: (x: number) => number, from: number, to: number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let [a, b] = [high - share * (high - low), low + share * (high - low)];
  let [atA, atB] = [of(a), of(b)];
  for (let step = 0; step < STEPS && high - low > 1e-12 * Math.max(1, Math.abs(low)); step += 1) {
    if (atA < atB) {
      [low, a, atA] = [a, b, atB];
      b = low + share * (high - low);
      atB = of(b);
    } else {
      [high, b, atB] = [b, a, atA];
      a = high - share * (high - low);
      atA = of(a);
    }
  }
  return (low + high) / 2;
}
