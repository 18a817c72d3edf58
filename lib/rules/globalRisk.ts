import type { Bounds } from '../tolerances/index.ts';
import { normalCdf } from '../units/index.ts';
import { probabilityOutside } from './probability.ts';

/** Parts of a normal law beyond this many standard deviations are left out: below 1e-23. */
const REACH = 10;
/** Steps of Simpson's rule in each stretch; even. */
const STEPS = 2000;

/** Simpson's rule over a stretch. */
function integral(from: number, to: number, f: (x: number) => number): number {
  if (!(to > from)) return 0;
  const step = (to - from) / STEPS;
  let sum = f(from) + f(to);
  for (let i = 1; i < STEPS; i += 1) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * step);
  return (sum * step) / 3;
}

/** True values of the parts of a kind, taken as normal: their mean and standard deviation. */
export interface Process {
  readonly mean: number;
  readonly deviation: number;
}

/** What a rule of decision does to all parts of a kind, each a share of all of them. */
export interface GlobalRisks {
  /** Parts whose true value lies within the tolerance. */
  readonly conforming: number;
  /** Taken as conforming although they are not: the consumer's risk. */
  readonly consumer: number;
  /** Not taken as conforming although they are: the producer's risk. */
  readonly producer: number;
}

/**
 * Global consumer's and producer's risk (JCGM 106:2012, 9.5): parts with true values after `process` are measured with
 * standard uncertainty `u` (above 0) and taken as conforming where the value lies in `acceptance`; they are where the
 * truth lies in `tolerance`. Same unit throughout; a missing end is open. `acceptance` null: nothing is taken.
 */
export function globalRisks(
  process: Process,
  u: number,
  tolerance: Bounds,
  acceptance: Bounds | null,
): GlobalRisks {
  const { mean, deviation } = process;
  const density = (x: number) =>
    Math.exp(-(((x - mean) / deviation) ** 2) / 2) / (deviation * Math.sqrt(2 * Math.PI));
  const taken = (x: number) => (acceptance === null ? 0 : 1 - probabilityOutside(x, u, acceptance));
  const [first, last] = [mean - REACH * deviation, mean + REACH * deviation];
  const low = Math.min(Math.max(tolerance.min ?? first, first), last);
  const high = Math.max(Math.min(tolerance.max ?? last, last), first);
  // Where an acceptance end lies in a stretch the answer bends; parted there, each piece is smooth.
  const bends = [acceptance?.min, acceptance?.max]
    .filter((end) => end !== undefined)
    .flatMap((end) => [end - REACH * u, end, end + REACH * u]);
  const over = (from: number, to: number, f: (x: number) => number) => {
    const marks = [from, ...bends.filter((bend) => bend > from && bend < to).sort((a, b) => a - b), to];
    return marks.slice(1).reduce((sum, mark, i) => sum + integral(marks[i] ?? from, mark, f), 0);
  };
  const takenHere = (x: number) => density(x) * taken(x);
  const cdf = (x: number | undefined, open: number) =>
    x === undefined ? open : normalCdf((x - mean) / deviation);
  return {
    conforming: cdf(tolerance.max, 1) - cdf(tolerance.min, 0),
    consumer: over(first, low, takenHere) + over(high, last, takenHere),
    producer: over(low, high, (x) => density(x) * (1 - taken(x))),
  };
}
