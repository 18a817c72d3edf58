import { describe, expect, test } from 'vitest';
import {
  byAverageRange,
  byVariance,
  DISTINCT_MIN,
  gaugeClass,
  percentOfTolerance,
  pooledDeviation,
  type StudyReadings,
} from '../../lib/review/agreement/index.ts';
import { caseOf } from '../support/cases.ts';

/** The published study of ten parts, three people and three trials; sources stand in the case files. */
const study = (): StudyReadings =>
  (caseOf('B-01').inputs.data as number[][]).map((row) => [0, 3, 6].map((k) => row.slice(k, k + 3)));

describe('gauge studies', () => {
  test('published case B-01: the readings are free of typing errors', () => {
    const { expected } = caseOf('B-01');
    expect(
      study()
        .flat(2)
        .reduce((sum, one) => sum + one, 0),
    ).toBeCloseTo(expected.sum_all, 9);
  });

  test('published cases B-02 and B-06: average and range', () => {
    const { expected } = caseOf('B-02');
    const found = byAverageRange(study());
    if (!found.ok) throw new Error(found.error.message);
    const { repeatability, reproducibility, gauge, part, total, percent, distinct } = found.value;
    // The manual goes on from rounded averages; its note gives 0.22967 for AV at full precision.
    expect(repeatability).toBeCloseTo(expected.EV, 3);
    expect(reproducibility).toBeCloseTo(0.22967, 4);
    expect(gauge).toBeCloseTo(expected.GRR, 3);
    expect(part).toBeCloseTo(expected.PV, 3);
    expect(total).toBeCloseTo(expected.TV, 3);
    expect(percent.gauge).toBeCloseTo(expected.pct_GRR, 1);
    expect(percent.part).toBeCloseTo(expected.pct_PV, 1);
    expect(distinct).toBe(expected.ndc);
  });

  test('published cases B-03, B-04 and B-05: analysis of variance, pooled or not', () => {
    const { expected: table } = caseOf('B-03');
    const { expected: pooled } = caseOf('B-04');
    const { expected: kept } = caseOf('B-05');
    const found = byVariance(study());
    const apart = byVariance(study(), false);
    if (!found.ok || !apart.ok) throw new Error('refused');
    const { meanSquares, interactionF, interactionP } = found.value;
    const own = [meanSquares.parts, meanSquares.people, meanSquares.interaction, meanSquares.repeatability];
    own.forEach((value, i) => {
      expect(value).toBeCloseTo(table.MS[i], 5);
    });
    expect(interactionF).toBeCloseTo(table.F_interaction, 3);
    expect(interactionP).toBeCloseTo(table.p_interaction, 3);
    expect(meanSquares.parts / meanSquares.interaction).toBeCloseTo(table.F_part_over_interaction, 0);
    expect(found.value.pooled).toBe(true);
    expect(found.value.repeatability).toBeCloseTo(pooled.EV, 5);
    expect(found.value.reproducibility).toBeCloseTo(pooled.AV, 5);
    expect(found.value.gauge).toBeCloseTo(pooled.GRR, 5);
    expect(found.value.part).toBeCloseTo(pooled.PV, 5);
    expect(found.value.percent.gauge).toBeCloseTo(pooled.pct_study[2], 2);
    expect(found.value.distinct).toBe(pooled.ndc);
    expect(apart.value.repeatability).toBeCloseTo(kept.EV, 5);
    expect(apart.value.interaction).toBe(kept.interaction_sd);
  });

  test('published case B-08: classes of a gauge, the limits themselves in the better class', () => {
    const { inputs, expected } = caseOf('B-08');
    const words: Record<string, string> = {
      acceptable: 'good enough',
      marginal: 'doubtful',
      'not acceptable': 'not good enough',
    };
    expect(inputs.pct_grr.map(gaugeClass)).toEqual(expected.pct_class.map((one: string) => words[one]));
    expect(inputs.ndc.map((one: number) => one >= DISTINCT_MIN)).toEqual(expected.ndc_ok);
  });

  test('published cases B-09 and B-10: share of a tolerance by six standard deviations, pooled deviations', () => {
    const share = caseOf('B-09');
    expect(percentOfTolerance(share.inputs.GRR, share.inputs.tolerance)).toBeCloseTo(
      share.expected.ratio_6sd_percent,
      1,
    );
    const { inputs, expected } = caseOf('B-10');
    const pooled = pooledDeviation(inputs.s.map((sd: number, i: number) => ({ sd, degrees: inputs.dof[i] })));
    expect(pooled?.sd).toBeCloseTo(expected.pooled, 4);
    expect(pooled?.degrees).toBe(expected.dof);
    expect(pooledDeviation([])).toBeNull();
  });

  test('gaps, readings all alike and sizes without constants are refused with a way out', () => {
    const [first, ...others] = study();
    const gap = [[...(first ?? []).slice(0, 2), [1, 2]], ...others] as StudyReadings;
    for (const way of [byAverageRange, byVariance])
      expect(way(gap)).toMatchObject({ ok: false, error: { code: 'study-readings' } });
    const alike = study().map((part) => part.map((own) => own.map(() => 1)));
    expect(byVariance(alike)).toMatchObject({ ok: false, error: { code: 'study-alike' } });
    const four = study().map((part) => part.map((own) => [...own, own[0] ?? 0]));
    expect(byAverageRange(four)).toMatchObject({ ok: false, error: { code: 'study-size' } });
  });
});
