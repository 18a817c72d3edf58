import { describe, expect, test } from 'vitest';
import { fleetSlopes, priorOf, shrunk } from '../../lib/history/index.ts';

const mustFleet = (slopes: Parameters<typeof fleetSlopes>[0]) => {
  const fleet = fleetSlopes(slopes);
  if (fleet === null) throw new Error('no fleet');
  return fleet;
};

describe('slopes of a fleet', () => {
  test('the BCG vaccine trials by DerSimonian and Laird', () => {
    // Source: Colditz et al., JAMA 271, 1994, as given with the R package metafor (data and results from memory): vaccinated
    // ill and well, others ill and well, of thirteen trials; log relative risks.
    const trials = [
      [4, 119, 11, 128],
      [6, 300, 29, 274],
      [3, 228, 11, 209],
      [62, 13536, 248, 12619],
      [33, 5036, 47, 5761],
      [180, 1361, 372, 1079],
      [8, 2537, 10, 619],
      [505, 87886, 499, 87892],
      [29, 7470, 45, 7232],
      [17, 1699, 65, 1600],
      [186, 50448, 141, 27197],
      [5, 2493, 3, 2338],
      [27, 16886, 29, 17825],
    ];
    const fleet = mustFleet(
      trials.map(([a = 0, b = 0, c = 0, d = 0]) => ({
        slope: Math.log(a / (a + b) / (c / (c + d))),
        variance: 1 / a - 1 / (a + b) + 1 / c - 1 / (c + d),
      })),
    );
    expect(fleet.Q).toBeCloseTo(152.233, 3);
    expect(fleet.between).toBeCloseTo(0.3088, 4);
    expect(fleet.mean).toBeCloseTo(-0.7141, 4);
    expect(Math.sqrt(fleet.meanVariance)).toBeCloseTo(0.1787, 4);
  });

  // Source: Gelman et al., Bayesian Data Analysis, chapter 5 (from memory): effects of coaching in eight schools.
  const schools = [28, 8, -3, 7, -1, 1, 18, 12].map((slope, i) => ({
    slope,
    variance: ([15, 10, 16, 11, 9, 11, 10, 18][i] ?? 0) ** 2,
  }));

  test('the eight schools: no spread beyond chance by moments, the pooled effect 7.7 ± 4.1', () => {
    const fleet = mustFleet(schools);
    expect(fleet.between).toBe(0);
    expect(fleet.mean).toBeCloseTo(7.7, 1);
    expect(Math.sqrt(fleet.meanVariance)).toBeCloseTo(4.1, 1);
  });

  test('slopes of equal variance V: the spread is s² − V, and what is left of its own is 1 − V/s²', () => {
    const slopes = [1, 2, 4, 9].map((slope) => ({ slope, variance: 2 }));
    const fleet = mustFleet(slopes);
    const s2 = (9 + 4 + 0 + 25) / 3;
    expect(fleet.mean).toBeCloseTo(4, 12);
    expect(fleet.between).toBeCloseTo(s2 - 2, 12);
    const own = shrunk({ slope: 9, variance: 2 }, { slope: fleet.mean, variance: fleet.between });
    expect(own.share).toBeCloseTo(1 - 2 / s2, 12);
    expect(own.slope).toBeCloseTo(4 + 5 * (1 - 2 / s2), 12);
    expect(own.variance).toBeCloseTo(2 * (1 - 2 / s2), 12);
  });

  test('a component without a slope of its own takes the fleet’s, one that is sure keeps its own', () => {
    const prior = { slope: 3, variance: 1 };
    expect(shrunk({ slope: 50, variance: 1e12 }, prior).slope).toBeCloseTo(3, 6);
    expect(shrunk({ slope: 50, variance: 1e-12 }, prior).slope).toBeCloseTo(50, 6);
  });

  test('few components are no fleet, and a small one is less sure of its spread than a large one alike', () => {
    const alike = (count: number) =>
      Array.from({ length: count }, (_, i) => ({ slope: i % 2 === 0 ? 1 : 3, variance: 1e-9 }));
    expect(fleetSlopes(alike(1))).toBeNull();
    expect(priorOf(fleetSlopes(alike(3)))).toBeNull();
    const [small, large] = [priorOf(fleetSlopes(alike(4))), priorOf(fleetSlopes(alike(40)))];
    expect(small?.count).toBe(4);
    expect(small?.variance ?? 0).toBeGreaterThan(2 * (large?.variance ?? Number.POSITIVE_INFINITY));
  });
});
