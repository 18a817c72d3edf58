import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { guardedClass, probabilityOutside, simpleClass } from '../../lib/rules/index.ts';

interface Case {
  id: string;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form inputs
  inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  expected: any;
  // biome-ignore lint/suspicious/noExplicitAny: published cases have free-form results
  recomputed: any;
}
const cases: Case[] = JSON.parse(
  readFileSync(new URL('../cases/A-uncertainty-and-conformity.json', import.meta.url), 'utf8'),
).cases;
const caseOf = (id: string) =>
  must(
    cases.find((one) => one.id === id),
    id,
  );

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

  test('A-13, ILAC-G8:09/2019: the chance of being beyond when the reading sits on the acceptance limit', () => {
    const { inputs, expected, recomputed } = caseOf('A-13');
    const limit = inputs.nominal + inputs.tolerance;
    expected.upper_acceptance.forEach((acceptance: number, i: number) => {
      const beyond = probabilityOutside(acceptance, inputs.U95 / inputs.k, { max: limit });
      expect(beyond).toBeCloseTo(recomputed.pfa_exact[i], 9);
      expect(beyond).toBeLessThanOrEqual(expected.pfa_bound[i]);
    });
  });

  test('A-15, ISO 14253-1:2017 (from memory): conformity is proven only at 95 %', () => {
    const { inputs, expected } = caseOf('A-15');
    inputs.readings.forEach((y: number, i: number) => {
      const beyond = probabilityOutside(y, inputs.u, { max: inputs.upper_limit });
      const proven = guardedClass(beyond, beyond, 0.05) === 'keep';
      expect(proven).toBe(expected.decision[i] === 'conformity');
    });
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
