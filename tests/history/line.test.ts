import { describe, expect, test } from 'vitest';
import type { Result } from '../../lib/base/index.ts';
import {
  censoredMean,
  fitLine,
  leastTold,
  lineAt,
  robustSlope,
  spanOf,
  whereLineReaches,
} from '../../lib/history/index.ts';
import { caseOf } from '../support/cases.ts';

/** Sources: named in the case files beside each case. */
function taken<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error('refused');
  return result.value;
}

const pointsOf = (x: readonly number[], y: readonly number[]) =>
  x.map((one, i) => ({ x: one, y: y[i] ?? Number.NaN, u: 1 }));
const scattered = (x: readonly number[], y: readonly number[]) =>
  taken(fitLine(pointsOf(x, y), 'from residuals'));

function near(own: number | undefined, published: number, within: number): void {
  expect(Math.abs((own ?? Number.NaN) - published)).toBeLessThanOrEqual(within);
}

describe('a straight line', () => {
  test('published case D-01: the certified values of NIST’s Norris data', () => {
    const { inputs, expected } = caseOf('D-01');
    const line = scattered(inputs.x, inputs.y);
    const start = lineAt(line, 0);
    near(line.slope, expected.slope, 1e-12);
    near(start.value, expected.intercept, 1e-9);
    near(Math.sqrt(line.slopeVariance), expected.se_slope, 1e-12);
    near(start.u, expected.se_intercept, 1e-9);
    near(Math.sqrt(line.unitVariance), expected.residual_sd, 1e-9);
  });

  test('a point of half the uncertainty counts as four', () => {
    const once = taken(
      fitLine(
        [
          { x: 0, y: 0, u: 1 },
          { x: 1, y: 2, u: 0.5 },
          { x: 2, y: 2, u: 1 },
        ],
        'stated',
      ),
    );
    const often = taken(
      fitLine(
        [
          { x: 0, y: 0, u: 1 },
          ...Array.from({ length: 4 }, () => ({ x: 1, y: 2, u: 1 })),
          { x: 2, y: 2, u: 1 },
        ],
        'stated',
      ),
    );
    expect(once.slope).toBeCloseTo(often.slope, 12);
    expect(once.level).toBeCloseTo(often.level, 12);
  });

  test('scatter beyond what is stated widens, and agreement never narrows', () => {
    const wild = taken(
      fitLine(
        [0, 1, 2, 3].map((x) => ({ x, y: x % 2, u: 0.1 })),
        'stated',
      ),
    );
    const tame = taken(
      fitLine(
        [0, 1, 2, 3].map((x) => ({ x, y: x, u: 0.1 })),
        'stated',
      ),
    );
    expect(wild.unitVariance).toBeGreaterThan(1);
    expect(tame.unitVariance).toBe(1);
    expect(tame.slopeVariance).toBeCloseTo(0.1 ** 2 / 5, 12);
  });

  test('one point, one time and an uncertainty of zero are refused', () => {
    expect(fitLine([{ x: 1, y: 2, u: 1 }], 'stated')).toMatchObject({
      ok: false,
      error: { code: 'line-few' },
    });
    expect(
      fitLine(
        [
          { x: 1, y: 2, u: 1 },
          { x: 1, y: 3, u: 1 },
        ],
        'stated',
      ),
    ).toMatchObject({ ok: false, error: { code: 'line-one-x' } });
    expect(
      fitLine(
        [
          { x: 1, y: 2, u: 0 },
          { x: 2, y: 3, u: 1 },
        ],
        'stated',
      ),
    ).toMatchObject({ ok: false, error: { code: 'line-point' } });
  });
});

describe('where a line reaches a value', () => {
  test('published cases D-02 and D-03: mean response and single reading, exact interval', () => {
    const second = caseOf('D-02');
    const line = scattered(second.inputs.time, second.inputs.value);
    const reach = whereLineReaches(line, second.inputs.limit);
    near(reach?.estimate, second.expected.estimate, 6e-5);
    near(reach?.interval?.[0], second.expected.lower, 6e-5);
    near(reach?.interval?.[1], second.expected.upper, 6e-5);
    const { inputs, expected } = caseOf('D-03');
    const mean = whereLineReaches(line, inputs.limit, { confidence: inputs.level });
    const single = whereLineReaches(line, inputs.limit, { targetVariance: line.unitVariance });
    near(mean?.estimate, expected.estimate, 0.005);
    near(mean?.interval?.[0], expected.lower, 0.005);
    near(mean?.interval?.[1], expected.upper, 0.005);
    near(mean?.se, expected.se_mean_response, 1e-4);
    near(single?.se, expected.se_single_response, 1e-4);
  });

  test('published case D-04: from a single reading, exact and symmetric', () => {
    const { inputs, expected } = caseOf('D-04');
    const line = scattered(inputs.x, inputs.y);
    const reach = whereLineReaches(line, inputs.reading, {
      targetVariance: line.unitVariance,
      confidence: inputs.level,
    });
    near(reach?.estimate, expected.estimate, 6e-5);
    near(reach?.interval?.[0], expected.lower, 6e-5);
    near(reach?.interval?.[1], expected.upper, 6e-5);
    near(reach?.se, expected.se, 6e-5);
    near((reach?.estimate ?? 0) - spanOf(line, inputs.level) * (reach?.se ?? 0), expected.wald[0], 6e-5);
  });

  test('published cases D-05 and D-11: repeated readings, 99 %', () => {
    const fifth = caseOf('D-05');
    const line = scattered(fifth.inputs.x, fifth.inputs.y);
    fifth.inputs.readings.forEach((readings: number[], i: number) => {
      const reach = whereLineReaches(line, readings[0] ?? 0, {
        targetVariance: line.unitVariance / readings.length,
      });
      near(reach?.estimate, fifth.expected.estimate[i], 0.05);
      near(spanOf(line) * (reach?.se ?? 0), fifth.expected.half_width[i], 0.05);
      near(reach?.se, fifth.expected.se[i], 1e-6);
    });
    const last = caseOf('D-11');
    const other = scattered(last.inputs.x, last.inputs.y);
    const reach = whereLineReaches(other, last.inputs.reading, { targetVariance: other.unitVariance });
    near(spanOf(other, last.inputs.level) * (reach?.se ?? 0), last.expected.half_width, 5e-6);
    near(leastTold(other, last.inputs.level) ?? undefined, last.expected.critical_value, 5e-5);
  });

  test('published cases D-09 and D-10: no interval without a slope, or without a spread', () => {
    const ninth = caseOf('D-09');
    const flat = scattered(ninth.inputs.time, ninth.inputs.value);
    expect(whereLineReaches(flat, ninth.inputs.limit)?.interval).toBeNull();
    const { inputs, expected } = caseOf('D-10');
    const [perfect, two] = inputs.cases;
    const reach = whereLineReaches(scattered(perfect.x, perfect.y), perfect.limit);
    near(reach?.estimate, expected.estimate[0], 1e-9);
    near(reach?.interval?.[0], expected.estimate[0], 1e-9);
    near(reach?.interval?.[1], expected.estimate[0], 1e-9);
    expect(fitLine(pointsOf(two.x, two.y), 'from residuals')).toMatchObject({
      ok: false,
      error: { code: 'line-few', value: '2' },
    });
    // The line itself, with stated uncertainties, is known from two points.
    near(
      whereLineReaches(taken(fitLine(pointsOf(two.x, two.y), 'stated')), two.limit)?.estimate,
      expected.estimate[1],
      1e-9,
    );
  });

  test('a flat line reaches nothing', () => {
    expect(whereLineReaches(scattered([0, 1, 2], [1, 1, 1]), 3)).toBeNull();
  });
});

describe('a slope that hangs on no single reading', () => {
  test('published case D-06: Kendall’s test and the Theil–Sen line of the EPA’s example', () => {
    const { inputs, expected } = caseOf('D-06');
    const found = robustSlope(pointsOf(inputs.x, inputs.y));
    near(found?.tau, expected.tau, 1e-6);
    near(found?.slope, expected.slope, 1e-6);
    near(found?.intercept, expected.intercept, 1e-5);
    near(found?.z, expected.z, 1e-6);
    near(found?.p, expected.p, 1e-12);
    near(found?.interval[0], expected.slope_ci[0], 2e-5);
    near(found?.interval[1], expected.slope_ci[1], 2e-5);
  });

  test('published case D-07: pairs of one time are left out; the interval by the convention of D-06', () => {
    const { inputs, expected, recomputed } = caseOf('D-07');
    const found = robustSlope(pointsOf(inputs.x, inputs.y));
    near(found?.slope, expected.slope, 1e-9);
    // The published interval uses whole ranks; the case's note gives it by ours.
    near(found?.interval[0], recomputed.slope_ci_tie_corrected[0], 1e-6);
    near(found?.interval[1], recomputed.slope_ci_tie_corrected[1], 1e-6);
  });

  test('four points, and points of one time, say nothing', () => {
    expect(robustSlope(pointsOf([1, 2, 3, 4], [1, 2, 3, 4]))).toBeNull();
    expect(robustSlope(pointsOf([1, 1, 1, 1, 1], [1, 2, 3, 4, 5]))).toBeNull();
  });
});

describe('values of which some are only known to be less than a limit', () => {
  const { inputs, expected, tolerance } = caseOf('D-08');
  const readings = inputs.value.map((value: number, i: number) => ({
    value: Math.log(value),
    below: inputs.below_limit[i],
  }));

  test('published case D-08: mean, spread and interval of manganese', () => {
    const found = taken(censoredMean(readings));
    near(found.mean, expected.mean, tolerance.mean);
    near(found.sd, expected.sd, tolerance.sd);
    near(found.interval[0], expected.mean_ci[0], tolerance.mean_ci);
    near(found.interval[1], expected.mean_ci[1], tolerance.mean_ci);
    near(100 * found.belowShare, expected.percent_censored, 1e-9);
  });

  test('with nothing below, the mean and the maximum-likelihood spread', () => {
    const found = taken(censoredMean([1, 2, 4, 9].map((value) => ({ value, below: false }))));
    near(found.mean, 4, 1e-6);
    near(found.sd, Math.sqrt(((4 - 1) ** 2 + (4 - 2) ** 2 + 0 + (9 - 4) ** 2) / 4), 1e-6);
  });

  test('refuses too few that were read, and says how to go on', () => {
    const refused = censoredMean([
      { value: 1, below: false },
      { value: 2, below: false },
      { value: 0.5, below: true },
    ]);
    expect(refused).toMatchObject({ ok: false, error: { code: 'censored-few', value: '2' } });
    expect(censoredMean([1, 1, 1].map((value) => ({ value, below: false }))).ok).toBe(false);
    expect(censoredMean([1, Number.NaN, 3].map((value) => ({ value, below: false }))).ok).toBe(false);
  });
});
