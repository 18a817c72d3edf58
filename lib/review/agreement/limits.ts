import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { fail, mean, ok, type Problem, problem, type Result } from '../../base/index.ts';

/** Two readings of the same thing, in one unit: by two people, or twice by one. */
export interface Pair {
  readonly first: number;
  readonly second: number;
}

export type Interval = readonly [low: number, high: number];

/** How far two people, or two methods, are apart. All values in the unit of the readings. */
export interface LimitsOfAgreement {
  readonly n: number;
  /** Mean of first − second, and its confidence interval. */
  readonly bias: number;
  readonly biasInterval: Interval;
  /** Standard deviation of the differences. */
  readonly sd: number;
  readonly limits: Interval;
  /** Confidence intervals of the lower and of the upper limit. */
  readonly lowerInterval: Interval;
  readonly upperInterval: Interval;
}

/** Fewer differences than this have no standard deviation worth showing. */
export const PAIRS_MIN = 3;

/**
 * Bias and limits of agreement: bias ± k · sd of the differences, with t intervals of the bias (variance s²/n) and of
 * each limit (variance near 3s²/n) (Bland & Altman, Lancet 327, 1986). `k` 1.96 covers 95 % of differences. Fails for
 * fewer than three pairs and for readings that are not numbers.
 */
export function limitsOfAgreement(
  pairs: readonly Pair[],
  k = 1.96,
  confidence = 0.95,
): Result<LimitsOfAgreement, Problem> {
  const wrong = pairs.find(({ first, second }) => !(Number.isFinite(first) && Number.isFinite(second)));
  if (wrong !== undefined) {
    return fail(
      problem(
        'agreement-value',
        'pairs',
        wrong,
        'A reading is a number',
        'Leave the pair out, or correct it.',
      ),
    );
  }
  if (pairs.length < PAIRS_MIN) {
    return fail(
      problem(
        'agreement-few',
        'pairs',
        pairs.length,
        `Agreement needs at least ${PAIRS_MIN} pairs of readings`,
        'Choose a longer period, or have more parts read twice.',
      ),
    );
  }
  const differences = pairs.map(({ first, second }) => first - second);
  const n = differences.length;
  const bias = mean(differences);
  const sd = Math.sqrt(differences.reduce((sum, one) => sum + (one - bias) ** 2, 0) / (n - 1));
  const t = tQuantile((1 + confidence) / 2, n - 1);
  const around = (value: number, u: number): Interval => [value - t * u, value + t * u];
  const limits: Interval = [bias - k * sd, bias + k * sd];
  const limitU = sd * Math.sqrt(3 / n);
  return ok({
    n,
    bias,
    biasInterval: around(bias, sd / Math.sqrt(n)),
    sd,
    limits,
    lowerInterval: around(limits[0], limitU),
    upperInterval: around(limits[1], limitU),
  });
}

/**
 * Repeatability of one person who read every thing twice: the standard deviation of the differences about zero, and the
 * coefficient of repeatability, twice that: 95 % of second readings lie within it of the first (Bland & Altman 1986;
 * BS 5497-1). The standard deviation of one reading is the first divided by √2. Fails for no pairs.
 */
export function repeatability(
  pairs: readonly Pair[],
): Result<{ readonly n: number; readonly sdOfDifferences: number; readonly coefficient: number }, Problem> {
  if (pairs.length === 0) {
    return fail(
      problem(
        'agreement-few',
        'pairs',
        0,
        'Nothing was read twice',
        'Have some parts read twice by one person.',
      ),
    );
  }
  const squares = mean(pairs.map(({ first, second }) => (first - second) ** 2));
  const sdOfDifferences = Math.sqrt(squares);
  return ok({ n: pairs.length, sdOfDifferences, coefficient: 2 * sdOfDifferences });
}

/**
 * Normalised error of two readings with expanded uncertainties U (k = 2), in one unit: (a − b)/√(Ua² + Ub²); up to 1 in
 * size they agree within what they state (ISO 13528:2022, ISO/IEC 17043:2023). Null where neither states any
 * uncertainty.
 */
export function normalisedError(
  a: { readonly value: number; readonly U: number },
  b: { readonly value: number; readonly U: number },
): number | null {
  const U = Math.hypot(a.U, b.U);
  return U > 0 ? (a.value - b.value) / U : null;
}
