import { describe, expect, test } from 'vitest';
import type { Result } from '../../lib/base/index.ts';
import {
  type AgreementWeights,
  evenly,
  intraclass,
  limitsOfAgreement,
  normalisedError,
  type Pair,
  repeatability,
  sameClass,
  squarely,
  weightedKappa,
} from '../../lib/review/agreement/index.ts';
import { caseOf } from '../support/cases.ts';

/** Sources: named in the case files beside each case. */
function taken<T>(result: Result<T, unknown>): T {
  if (!result.ok) throw new Error('refused');
  return result.value;
}

const pairsOf = (first: readonly number[], second: readonly number[]): Pair[] =>
  first.map((one, i) => ({ first: one, second: second[i] ?? Number.NaN }));

describe('two people read the same things', () => {
  test('published case C-06: limits of agreement with their intervals', () => {
    const { inputs, expected } = caseOf('C-06');
    const found = taken(limitsOfAgreement(pairsOf(inputs.method_1, inputs.method_2), inputs.k));
    expect(found.n).toBe(expected.n);
    expect(Math.abs(found.bias - expected.bias)).toBeLessThan(0.05);
    expect(Math.abs(found.sd - expected.sd)).toBeLessThan(0.05);
    for (const [own, published, within] of [
      [found.limits, expected.limits, 0.12],
      [found.biasInterval, expected.bias_ci, 0.15],
      [found.lowerInterval, expected.lower_limit_ci, 0.2],
      [found.upperInterval, expected.upper_limit_ci, 0.2],
    ] as const) {
      own.forEach((value, i) => {
        expect(Math.abs(value - published[i])).toBeLessThan(within);
      });
    }
    // With 1.96 as the case's note says.
    const usual = taken(limitsOfAgreement(pairsOf(inputs.method_1, inputs.method_2)));
    expect(usual.limits[0]).toBeCloseTo(-78.1, 0);
    expect(usual.limits[1]).toBeCloseTo(73.9, 0);
  });

  test('published case B-11: two readings of each thing by one person', () => {
    const { inputs, expected } = caseOf('B-11');
    for (const name of ['wright', 'mini']) {
      const found = taken(repeatability(pairsOf(inputs[`${name}_first`], inputs[`${name}_second`])));
      expect(Math.abs(found.sdOfDifferences - expected[`sd_diff_${name}`])).toBeLessThan(0.06);
      expect(Math.abs(found.coefficient - expected[`coefficient_${name}`])).toBeLessThan(0.15);
    }
  });

  test('published case C-09: normalised error with expanded uncertainties', () => {
    const { inputs, expected } = caseOf('C-09');
    const errors = inputs.x.map((value: number) =>
      normalisedError({ value, U: inputs.U_x }, { value: inputs.X, U: inputs.U_X }),
    );
    errors.forEach((error: number, i: number) => {
      expect(error).toBeCloseTo(expected.En[i], 4);
      expect(Math.abs(error) <= 1).toBe(expected.satisfactory[i]);
    });
    expect(normalisedError({ value: 1, U: 0 }, { value: 2, U: 0 })).toBeNull();
  });

  test('fewer than three pairs, none, and readings that are no numbers are refused', () => {
    expect(limitsOfAgreement(pairsOf([1, 2], [1, 2]))).toMatchObject({
      ok: false,
      error: { code: 'agreement-few', value: '2' },
    });
    expect(limitsOfAgreement(pairsOf([1, 2, Number.NaN], [1, 2, 3])).ok).toBe(false);
    expect(repeatability([]).ok).toBe(false);
  });
});

describe('calls of two people', () => {
  const byDisagreement = (disagreement: readonly (readonly number[])[]): AgreementWeights => {
    const most = Math.max(...disagreement.flat());
    return (i, j) => 1 - (disagreement[i]?.[j] ?? 0) / most;
  };
  const counts = ({ proportions, n }: { proportions: number[][]; n: number }) =>
    proportions.map((row) => row.map((share) => share * n));

  test('published cases C-01, C-02 and C-05: kappa, and the standard error that holds where people agree', () => {
    const first = caseOf('C-01');
    expect(taken(weightedKappa(first.inputs.table, sameClass))).toMatchObject({
      observed: expect.closeTo(first.expected.observed, 9),
      chance: expect.closeTo(first.expected.chance, 9),
      kappa: expect.closeTo(first.expected.kappa, 9),
    });
    const second = caseOf('C-02');
    const rare = taken(weightedKappa(second.inputs.table, sameClass));
    expect(Math.abs((rare.kappa ?? 0) - second.expected.kappa)).toBeLessThan(0.005);
    // The case's note: 0.0762 and 0.52 to 0.82, not the published interval, which holds only under kappa = 0.
    expect(rare.se).toBeCloseTo(0.0762, 3);
    expect(rare.interval?.[0]).toBeCloseTo(0.52, 2);
    expect(rare.interval?.[1]).toBeCloseTo(0.82, 2);
    const ordered = caseOf('C-05');
    const graded = taken(weightedKappa(ordered.inputs.table, sameClass));
    expect(Math.abs((graded.kappa ?? 0) - ordered.expected.kappa)).toBeLessThan(0.0005);
    expect(Math.abs((graded.se ?? 0) - ordered.expected.se)).toBeLessThan(0.0006);
  });

  test('published cases C-03, C-04 and C-12: weighted kappa, symmetric weights or not', () => {
    const third = caseOf('C-03');
    const table = counts(third.inputs);
    expect(Math.abs((taken(weightedKappa(table, sameClass)).kappa ?? 0) - third.expected.kappa)).toBeLessThan(
      0.0005,
    );
    for (const id of ['C-03', 'C-12']) {
      const { inputs, expected } = caseOf(id);
      const found = taken(weightedKappa(counts(inputs), byDisagreement(inputs.disagreement_weights)));
      expect(Math.abs((found.kappa ?? 0) - expected.weighted_kappa)).toBeLessThan(0.0005);
    }
    const fourth = caseOf('C-04');
    const weighted = taken(
      weightedKappa(fourth.inputs.table, (i, j) => fourth.inputs.agreement_weights[i][j]),
    );
    expect(Math.abs((weighted.kappa ?? 0) - fourth.expected.weighted_kappa)).toBeLessThan(0.0005);
    expect(Math.abs((weighted.se ?? 0) - fourth.expected.se_weighted)).toBeLessThan(0.0005);
  });

  test('published case C-11: undefined where both used one class only, −1 and 0', () => {
    const { inputs, expected } = caseOf('C-11');
    const found = inputs.tables.map((table: number[][]) => taken(weightedKappa(table, sameClass)).kappa);
    expect(found).toEqual([expected.kappa[0], expect.closeTo(-1, 12), expect.closeTo(0, 12)]);
  });

  test('ordered classes: next to each other is milder than far apart, by either weight', () => {
    const near = [
      [10, 4, 0],
      [4, 10, 4],
      [0, 4, 10],
    ];
    const far = [
      [10, 0, 8],
      [0, 10, 0],
      [8, 0, 10],
    ];
    for (const weights of [evenly, squarely]) {
      const [a, b] = [taken(weightedKappa(near, weights)).kappa, taken(weightedKappa(far, weights)).kappa];
      expect(a ?? 0).toBeGreaterThan(b ?? 0);
    }
    expect(weightedKappa([[1, 2]]).ok).toBe(false);
    expect(
      weightedKappa([
        [0, 0],
        [0, 0],
      ]).ok,
    ).toBe(false);
    expect(
      weightedKappa([
        [1, -1],
        [0, 3],
      ]).ok,
    ).toBe(false);
  });
});

describe('several readers of the same things', () => {
  test('published case C-07: intraclass correlation in its six forms', () => {
    const { inputs, expected } = caseOf('C-07');
    const { oneWay, absolute, consistent } = taken(intraclass(inputs.data));
    const own = {
      ICC_1_1: oneWay.single,
      ICC_2_1: absolute.single,
      ICC_3_1: consistent.single,
      ICC_1_4: oneWay.mean,
      ICC_2_4: absolute.mean,
      ICC_3_4: consistent.mean,
    };
    for (const [name, value] of Object.entries(own))
      expect(Math.abs(value - expected[name]), name).toBeLessThan(0.005);
  });

  test('one reader, gaps and things all alike are refused', () => {
    expect(intraclass([[1], [2]])).toMatchObject({ ok: false, error: { code: 'intraclass-table' } });
    expect(intraclass([[1, 2], [1]]).ok).toBe(false);
    expect(
      intraclass([
        [3, 3],
        [3, 3],
      ]),
    ).toMatchObject({ ok: false, error: { code: 'intraclass-alike' } });
  });
});
