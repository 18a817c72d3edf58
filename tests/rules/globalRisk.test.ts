import { describe, expect, test } from 'vitest';
import { acceptanceInterval, fleetRisks, globalRisks } from '../../lib/rules/index.ts';
import { normalCdf } from '../../lib/units/index.ts';
import { caseOf } from '../support/cases.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const bounds = ([min, max]: [number, number]) => ({ min, max });

describe('global risks', () => {
  test('A-11, JCGM 106:2012 9.5, precision resistors with guard bands', () => {
    const { inputs, expected, recomputed } = caseOf('A-11');
    const risks = globalRisks(
      { mean: 1500, deviation: 0.12 },
      inputs.u_measure,
      bounds(inputs.tolerance),
      bounds(inputs.acceptance),
    );
    expect(risks.conforming).toBeCloseTo(recomputed.p_conform_process, 9);
    expect(risks.consumer).toBeCloseTo(recomputed.R_C, 9);
    expect(risks.producer).toBeCloseTo(recomputed.R_P, 9);
    expect(Math.abs(risks.consumer - expected.R_C)).toBeLessThan(0.005);
    expect(Math.abs(risks.producer - expected.R_P)).toBeLessThan(0.005);
  });

  test('A-12, Deaver 1993 (NCSL), a ratio of 4 to 1 without a guard band', () => {
    const { inputs, recomputed } = caseOf('A-12');
    const limits = bounds(inputs.tolerance);
    const risks = globalRisks({ mean: 0, deviation: 4 }, inputs.measure_sd, limits, limits);
    expect(risks.consumer).toBeCloseTo(recomputed.false_accept, 9);
    expect(risks.producer).toBeCloseTo(recomputed.false_reject, 9);
  });

  test('A-16, NCSLI RP-19 (draft), 4 to 1: of all parts, and of those taken as conforming', () => {
    const { inputs, recomputed } = caseOf('A-16');
    const limits = { min: -1, max: 1 };
    inputs.itp.forEach((within: number, i: number) => {
      const deviation = deviationFor(within);
      const risks = globalRisks({ mean: 0, deviation }, deviation / 4, limits, limits);
      expect(100 * risks.consumer).toBeCloseTo(recomputed.ufar_percent[i], 5);
      const taken = risks.conforming - risks.producer + risks.consumer;
      expect((100 * risks.consumer) / taken).toBeCloseTo(recomputed.cfar_percent[i], 5);
    });
  });

  test('a bound on one side: closed form where every part lies on the bound’s own side of a sharp measurement', () => {
    // With u far below the spread the consumer's risk goes to 0 and the producer's to 0.
    const risks = globalRisks({ mean: 11, deviation: 0.5 }, 1e-6, { min: 10.5 }, { min: 10.5 });
    expect(risks.conforming).toBeCloseTo(normalCdf(1), 12);
    expect(risks.consumer).toBeLessThan(1e-5);
    expect(risks.producer).toBeLessThan(1e-5);
  });

  test('a guard band takes the consumer’s risk down and the producer’s up', () => {
    const process = { mean: 11, deviation: 0.5 };
    const tolerance = { min: 10.5 };
    const plain = globalRisks(process, 0.1, tolerance, tolerance);
    const guarded = globalRisks(process, 0.1, tolerance, acceptanceInterval(tolerance, 0.1, 0.05));
    expect(guarded.consumer).toBeLessThan(plain.consumer / 5);
    expect(guarded.producer).toBeGreaterThan(plain.producer);
  });

  test('where nothing is taken every conforming part is the producer’s loss', () => {
    const risks = globalRisks({ mean: 0, deviation: 1 }, 0.5, { min: -1, max: 1 }, null);
    expect(risks.consumer).toBe(0);
    expect(risks.producer).toBeCloseTo(normalCdf(1) - normalCdf(-1), 9);
  });

  test('parts far beyond the tolerance, on either side, are none of them conforming', () => {
    for (const mean of [-100, 100]) {
      const risks = globalRisks({ mean, deviation: 1 }, 0.5, { min: -1, max: 1 }, { min: -1, max: 1 });
      expect([risks.consumer, risks.producer].every((risk) => Math.abs(risk) < 1e-9)).toBe(true);
    }
  });
});

/** Standard deviation of N(0, s) with this probability between −1 and 1, by halving. */
function deviationFor(within: number): number {
  let [low, high] = [0.01, 10];
  for (let i = 0; i < 200; i += 1) {
    const middle = (low + high) / 2;
    if (normalCdf(1 / middle) - normalCdf(-1 / middle) > within) low = middle;
    else high = middle;
  }
  return low;
}

describe('what a limit does to a fleet', () => {
  const [limit] = tableOf([
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      keep: { min: 10.5 },
      repair: null,
      methods: ['gauge'],
      source: testSource,
    },
  ]).rows;
  if (limit?.type !== 'limit') throw new Error('no limit');
  const row = limit;
  const guarded = { rule: 'guarded', risk: 0.05 } as const;
  // Mean 11, variance 10/9 × 0.25 of the readings; less 0.09 of measuring.
  const fleet = (u: number) =>
    [10.5, 11.5, 10.5, 11.5, 10.5, 11.5, 10.5, 11.5, 10.5, 11.5].map((value) => ({ value, u }));

  test('is told of the truths behind the readings: the variance of measuring is taken off', () => {
    const process = { mean: 11, deviation: Math.sqrt(2.5 / 9 - 0.09) };
    const keep = { min: 10.5 };
    expect(fleetRisks(row, guarded, fleet(0.3))).toEqual(
      globalRisks(process, 0.3, keep, acceptanceInterval(keep, 0.3, 0.05)),
    );
    expect(fleetRisks(row, { rule: 'simple acceptance', risk: 0.05 }, fleet(0.3))).toEqual(
      globalRisks(process, 0.3, keep, keep),
    );
  });

  test('takes the median of the uncertainties', () => {
    const mixed = fleet(0.3).map((one, i) => ({ ...one, u: i < 4 ? 0.1 : i < 6 ? 0.3 : 0.4 }));
    expect(fleetRisks(row, guarded, mixed)).toEqual(fleetRisks(row, guarded, fleet(0.3)));
    const eleven = [...mixed, { value: 11, u: 0.1 }];
    expect(fleetRisks(row, guarded, eleven)?.consumer).toBeGreaterThan(0);
  });

  test('is not told of fewer than ten readings, nor where measuring explains their spread', () => {
    expect(fleetRisks(row, guarded, fleet(0.3).slice(1))).toBeNull();
    expect(fleetRisks(row, guarded, fleet(0.6))).toBeNull();
    expect(fleetRisks(row, guarded, fleet(0))).toBeNull();
  });
});
