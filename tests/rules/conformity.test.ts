import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { acceptanceInterval, guardedClass, probabilityOutside, simpleClass } from '../../lib/rules/index.ts';
import { caseOf } from '../support/cases.ts';

/** Published cases of acceptance; the sources are named in the case file beside each. */
describe('published cases of conformity', () => {
  test('A-07, JCGM 106:2012 Table 1 (from memory): distance in u for a conformance probability', () => {
    const { inputs, recomputed } = caseOf('A-07');
    recomputed.z.forEach((z: number, i: number) => {
      expect(1 - probabilityOutside(-z, 1, { max: 0 })).toBeCloseTo(inputs.p[i], 9);
    });
  });

  test('A-08, JCGM 106:2012 7.3 (from memory): upper limit only', () => {
    const { inputs, expected, recomputed } = caseOf('A-08');
    const conform = 1 - probabilityOutside(inputs.y, inputs.u, { max: inputs.upper_limit });
    expect(conform).toBeCloseTo(recomputed.p_conform, 9);
    expect(Math.abs(conform - expected.p_conform)).toBeLessThan(0.005);
  });

  test('A-09, JCGM 106:2012 7.4 (from memory): two-sided tolerance', () => {
    const { inputs, recomputed } = caseOf('A-09');
    const bounds = { min: inputs.lower_limit, max: inputs.upper_limit };
    expect(1 - probabilityOutside(inputs.y, inputs.u, bounds)).toBeCloseTo(recomputed.p_conform, 9);
  });

  test('A-10, JCGM 106:2012 8.3.3 (from memory): guarded rejection', () => {
    const { inputs, recomputed } = caseOf('A-10');
    const beyond = probabilityOutside(inputs.indicated_kmh, inputs.indicated_kmh * inputs.relative_u, {
      max: inputs.limit_kmh,
    });
    expect(beyond).toBeCloseTo(recomputed.p_nonconform, 9);
    expect(beyond).toBeGreaterThanOrEqual(0.999);
  });

  test('A-11, JCGM 106:2012 9.5 (from memory), precision resistors: the share of a process within the tolerance', () => {
    // The consumer's and the producer's risk of the same example speak of a whole production, not of one part.
    const { inputs, expected, recomputed } = caseOf('A-11');
    const [min, max] = inputs.tolerance;
    const conform = 1 - probabilityOutside(1500, 0.12, { min, max });
    expect(inputs.process).toBe('N(1500, 0.12)');
    expect(conform).toBeCloseTo(recomputed.p_conform_process, 9);
    expect(Math.abs(conform - expected.p_conform_process)).toBeLessThan(0.006);
  });

  test('A-13, ILAC-G8:09/2019: the chance of being beyond when the reading sits on the acceptance limit', () => {
    const { inputs, expected, recomputed } = caseOf('A-13');
    const limit = inputs.nominal + inputs.tolerance;
    expected.upper_acceptance.forEach((acceptance: number, i: number) => {
      const beyond = probabilityOutside(acceptance, inputs.U95 / inputs.k, { max: limit });
      expect(beyond).toBeCloseTo(recomputed.pfa_exact[i], 9);
      expect(beyond).toBeLessThanOrEqual(expected.pfa_bound[i]);
    });
  });

  test('A-13, ILAC-G8:09/2019: the acceptance limits that belong to these chances', () => {
    const { inputs, expected, recomputed } = caseOf('A-13');
    const bounds = { min: inputs.nominal - inputs.tolerance, max: inputs.nominal + inputs.tolerance };
    recomputed.pfa_exact.forEach((risk: number, i: number) => {
      const interval = acceptanceInterval(bounds, inputs.U95 / inputs.k, risk);
      expect(interval?.max).toBeCloseTo(expected.upper_acceptance[i], 9);
      expect(interval?.min).toBeCloseTo(expected.lower_acceptance[i], 9);
    });
  });

  test('A-14, ILAC-G8:09/2019 4.2.3: four statements with a guard band w = U', () => {
    const { inputs, expected } = caseOf('A-14');
    const [limit, u] = [inputs.upper_limit, inputs.w / 2];
    const statement = (y: number) => {
      const [beyond, within] = [
        probabilityOutside(y, u, { max: limit }),
        probabilityOutside(y, u, { min: limit }),
      ];
      // 1 − Φ(2) = 0.0227501319481792, rounded so that a reading on either end of the guard bands is doubtful or accepted.
      if (guardedClass(beyond, 1, 0.022750131949) === 'keep') return 'pass';
      if (simpleClass(y, { max: limit }, null) === 'keep') return 'conditional pass';
      return guardedClass(within, 1, 0.022750131948) === 'keep' ? 'fail' : 'conditional fail';
    };
    expect(inputs.readings.map(statement)).toEqual(expected.statement);
  });

  test('A-15, ISO 14253-1:2017 (from memory): conformity and non-conformity are proven only at 95 %', () => {
    const { inputs, expected } = caseOf('A-15');
    const [limit, u] = [inputs.upper_limit, inputs.u];
    const decision = (y: number) => {
      if (guardedClass(probabilityOutside(y, u, { max: limit }), 1, 0.05) === 'keep') return 'conformity';
      return guardedClass(probabilityOutside(y, u, { min: limit }), 1, 0.05) === 'keep'
        ? 'non-conformity'
        : 'undecided';
    };
    expect(inputs.readings.map(decision)).toEqual(expected.decision);
    const accepted = must(acceptanceInterval({ max: limit }, u, 0.05)?.max, 'acceptance limit');
    expect(Math.abs((limit - accepted) / u - expected.guard_factor)).toBeLessThan(0.001);
  });

  test('A-17, public worked guide to ILAC-G8: a micrometer within its permissible error less U', () => {
    const { inputs, expected } = caseOf('A-17');
    // w = U is a risk of 1 − Φ(2) = 0.0227501319481792 (standard normal table).
    const interval = acceptanceInterval(
      { min: -inputs.mpe, max: inputs.mpe },
      inputs.U / 2,
      0.0227501319481792,
    );
    const { min, max } = must(interval ?? undefined, 'interval');
    expect([min, max]).toEqual([
      expect.closeTo(-expected.acceptance_limit, 12),
      expect.closeTo(expected.acceptance_limit, 12),
    ]);
    const inside = inputs.deviations.map((y: number) => simpleClass(y, { min, max }, null) === 'keep');
    expect(inside).toEqual(expected.inside);
  });
});

describe('simple acceptance', () => {
  test('a value on a bound is inside it', () => {
    const keep = { min: 10 };
    const repair = { min: 8 };
    expect([9.999, 10, 10.001, 7.999, 8, 8.001].map((v) => simpleClass(v, keep, repair))).toEqual([
      'repair',
      'keep',
      'keep',
      'scrap',
      'repair',
      'repair',
    ]);
  });

  test('both ends of two-sided bounds are inside', () => {
    const keep = { min: 10, max: 12 };
    expect([9.999, 10, 12, 12.001].map((v) => simpleClass(v, keep, null))).toEqual([
      'scrap',
      'keep',
      'keep',
      'scrap',
    ]);
  });

  test('without a repair bound everything beyond keep is scrap', () => {
    expect(simpleClass(9.9, { min: 10 }, null)).toBe('scrap');
  });
});

describe('guarded acceptance', () => {
  test('a risk that is met exactly is allowed', () => {
    expect(guardedClass(0.05, 1, 0.05)).toBe('keep');
    expect(guardedClass(0.0500001, 0.05, 0.05)).toBe('repair');
    expect(guardedClass(0.0500001, 0.0500001, 0.05)).toBe('scrap');
  });

  test('with no uncertainty the ends belong to the bounds', () => {
    expect(probabilityOutside(10, 0, { min: 10, max: 12 })).toBe(0);
    expect(probabilityOutside(12, 0, { min: 10, max: 12 })).toBe(0);
    expect(probabilityOutside(9.999, 0, { min: 10, max: 12 })).toBe(1);
  });
});

describe('the acceptance interval', () => {
  test.each([
    [0.05, 1.6448536269514722],
    [0.025, 1.959963984540054],
    [0.01, 2.3263478740408408],
  ])(
    'a guard band for a risk of %d is %d u (standard normal table; 1.645 u for 5 %%: ISO 14253-1, ILAC-G8:09/2019)',
    (risk, z) => {
      expect(acceptanceInterval({ min: 10.5 }, 0.1, risk)?.min).toBeCloseTo(10.5 + 0.1 * z, 12);
      expect(acceptanceInterval({ max: 2 }, 0.1, risk)?.max).toBeCloseTo(2 - 0.1 * z, 12);
      expect(acceptanceInterval({ min: 10.5 }, 0.1, risk)).not.toHaveProperty('max');
      expect(acceptanceInterval({ max: 4000 }, 100, risk)?.max).toBeCloseTo(4000 - 100 * z, 9);
    },
  );

  test('two-sided bounds far apart have the guard band of each alone (JCGM 106:2012 8.3.2, from memory)', () => {
    const interval = acceptanceInterval({ min: 4, max: 16 }, 0.5, 0.05);
    expect(interval?.min).toBeCloseTo(4 + 0.5 * 1.6448536269514722, 9);
    expect(interval?.max).toBeCloseTo(16 - 0.5 * 1.6448536269514722, 9);
  });

  test('bounds close together count both tails; where even the middle is too doubtful the interval is empty', () => {
    // Half width 1.96 u: the middle has 2.5 % beyond each end (standard normal table).
    expect(acceptanceInterval({ min: -1.97, max: 1.97 }, 1, 0.05)).not.toBeNull();
    expect(acceptanceInterval({ min: -1.95, max: 1.95 }, 1, 0.05)).toBeNull();
    const interval = acceptanceInterval({ min: -2, max: 2 }, 1, 0.05);
    // Narrower than the guard bands of the two ends alone would leave it.
    expect(interval?.max).toBeLessThan(2 - 1.6448536269514722);
    expect(interval?.max).toBeCloseTo(-(interval?.min ?? 0), 12);
  });

  test('its ends are accepted, and the next step outwards is not', () => {
    for (const bounds of [{ min: 10.5 }, { max: -25 }, { min: 4, max: 16 }, { min: 0 }]) {
      for (const u of [1e-9, 0.03, 1, 3]) {
        const interval = acceptanceInterval(bounds, u, 0.05);
        const keeps = (value: number) => probabilityOutside(value, u, bounds) <= 0.05;
        if (interval?.min !== undefined)
          expect([keeps(interval.min), keeps(interval.min - 1e-6 * u - 1e-14)]).toEqual([true, false]);
        if (interval?.max !== undefined)
          expect([keeps(interval.max), keeps(interval.max + 1e-6 * u + 1e-14)]).toEqual([true, false]);
        expect(interval).not.toBeNull();
      }
    }
  });

  test('without uncertainty it is the bounds themselves, also where u is below the resolution of the numbers', () => {
    expect(acceptanceInterval({ min: 10.5 }, 0, 0.05)).toEqual({ min: 10.5 });
    expect(acceptanceInterval({ min: 10.5 }, 1e-18, 0.05)?.min).toBeCloseTo(10.5, 12);
    expect(acceptanceInterval({ max: 10.5 }, 1e-18, 0.05)?.max).toBeCloseTo(10.5, 12);
  });

  test('a risk that only the middle meets, and meets exactly, leaves the middle', () => {
    const bounds = { min: -2, max: 2 };
    const interval = acceptanceInterval(bounds, 1, probabilityOutside(0, 1, bounds));
    expect(interval?.min).toBeCloseTo(0, 6);
    expect(interval?.max).toBeCloseTo(0, 6);
  });
});
