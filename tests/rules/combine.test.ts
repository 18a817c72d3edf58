import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { agree, combine, groupsAt, sampleDeviation } from '../../lib/rules/combine.ts';
import type { ReadingEvidence } from '../../lib/rules/index.ts';
import { placeAt } from '../../lib/rules/place.ts';
import { probabilityOfChiSquared } from '../../lib/rules/probability.ts';
import { reading } from '../support/evidence.ts';

const gauge = (name: string) => ({ name, calibrationDue: '2030-01-01', expired: false });
const by = (name: string | null, valueMm: number, uMm: number, id = `${name} ${valueMm}`) =>
  reading({ id, valueMm, uMm, instrument: name === null ? null : gauge(name) });
/** The readings put together, whether they agree or not. */
function together(readings: readonly ReadingEvidence[]) {
  const groups = groupsAt(readings);
  return { groups, ...combine(groups) };
}

describe('repeats with one instrument', () => {
  test('mean, and s/√n in quadrature with the largest u of the instrument (JCGM 100 4.2.3 and 5.1.2)', () => {
    const at = together([by('A', 10, 0.1), by('A', 11, 0.2), by('A', 12, 0.1)]);
    expect(at.value).toBe(11);
    expect(at.u).toBeCloseTo(Math.hypot(0.2, 1 / Math.sqrt(3)), 14);
    expect(at).toMatchObject({ birgeRatio: 1, groups: [{ instrument: 'A', repeats: 3 }] });
  });

  test('averaging does not lessen the u of the instrument: repeats that agree leave it as it is', () => {
    const same = [1, 2, 3, 4].map((n) => by('A', 10, 0.1, `r${n}`));
    expect(together(same).u).toBe(0.1);
  });
});

describe('the sample standard deviation', () => {
  test('of readings is that of JCGM 100 4.2.2, and 0 where there is one', () => {
    // 10, 11, 12, 13: mean 11.5, Σ = 5, s = √(5/3).
    expect(sampleDeviation([10, 11, 12, 13])).toBeCloseTo(Math.sqrt(5 / 3), 14);
    expect(sampleDeviation([10, 11])).toBeCloseTo(Math.SQRT1_2, 14);
    expect(sampleDeviation([10])).toBe(0);
    expect(sampleDeviation([])).toBe(0);
  });
});

describe('different instruments at one place', () => {
  test('weighted mean and its u where they agree: weights 1 and 4 (Cochran 1954, from memory)', () => {
    const at = together([by('A', 10, 0.2), by('B', 10.1, 0.1)]);
    expect(at.value).toBeCloseTo((10 + 4 * 10.1) / 5, 12);
    expect(at.u).toBeCloseTo(1 / Math.sqrt(25 + 100), 12);
    expect(at.birgeRatio).toBe(1);
    expect(at.groups.map((group) => [group.instrument, group.value, group.u])).toEqual([
      ['A', 10, 0.2],
      ['B', 10.1, 0.1],
    ]);
  });

  test('where they disagree u is widened by √(χ²/(G − 1)) (Birge 1932, from memory)', () => {
    // Mean 10.5, χ² = 2 × (0.5 / 0.1)² = 50, u = 0.1/√2 × √50 = 0.5: half their distance, whatever they claim.
    const at = together([by('A', 10, 0.1), by('B', 11, 0.1)]);
    expect(at.value).toBeCloseTo(10.5, 12);
    expect(at.birgeRatio).toBeCloseTo(Math.sqrt(50), 12);
    expect(at.u).toBeCloseTo(0.5, 12);
  });

  test('three of them: χ² over two degrees of freedom (worked by hand)', () => {
    const { value, u, birgeRatio } = combine([
      { value: 1, u: 1 },
      { value: 3, u: 1 },
      { value: 5, u: 1 },
    ]);
    expect([value, birgeRatio, u]).toEqual([3, expect.closeTo(2, 12), expect.closeTo(2 / Math.sqrt(3), 12)]);
  });

  test('no instrument named is one group, a photo another', () => {
    const groups = groupsAt([
      by(null, 10, 0.5, 'a'),
      by(null, 11, 0.5, 'b'),
      by('A', 10, 0.1),
      reading({ id: 'p', method: 'photo', instrument: null, valueMm: 10 }),
    ]);
    expect(groups.map(({ method, instrument, repeats }) => [method, instrument, repeats])).toEqual([
      ['gauge', null, 2],
      ['gauge', 'A', 1],
      ['photo', null, 1],
    ]);
  });

  test('an instrument with an empty name is a named one: its readings are no group with those of none', () => {
    const groups = groupsAt([by('', 10, 0.1, 'r10'), by('', 11, 0.1, 'r2'), by(null, 12, 0.5)]);
    expect(groups.map(({ instrument, repeats, readings }) => [instrument, repeats, readings])).toEqual([
      [null, 1, ['null 12']],
      ['', 2, ['r10', 'r2']],
    ]);
  });

  test('without any there is nothing to combine', () => {
    expect(() => combine([])).toThrow('nothing to combine');
  });

  test('with u = 0 the combination is the limit of the formulas for u → 0', () => {
    const rough = { value: 12, u: 0.5 };
    for (const exact of [[10], [10, 10], [10, 10.4], [9, 10, 11.5]]) {
      const near = combine([...exact.map((value) => ({ value, u: 1e-7 })), rough]);
      const at = combine([...exact.map((value) => ({ value, u: 0 })), rough]);
      expect(at.value).toBeCloseTo(near.value, 5);
      expect(at.u).toBeCloseTo(near.u, 5);
    }
  });

  test('the value lies among the groups, and u is never below that of the plain weighted mean', () => {
    const group = fc.record({
      value: fc.double({ min: 0, max: 50, noNaN: true }),
      u: fc.double({ min: 1e-6, max: 5, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(group, { minLength: 1, maxLength: 6 }), (groups) => {
        const { value, u, birgeRatio } = combine(groups);
        const values = groups.map((one) => one.value);
        expect(value).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(value).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
        const plain = 1 / Math.sqrt(groups.reduce((sum, one) => sum + 1 / one.u ** 2, 0));
        expect(u).toBeGreaterThanOrEqual(plain * (1 - 1e-12));
        expect(birgeRatio).toBeGreaterThanOrEqual(1);
      }),
      { seed: 21, numRuns: 500 },
    );
  });

  test('the order of the readings does not matter, to the last bit', () => {
    const one = fc.record({
      valueMm: fc.double({ min: 5, max: 16, noNaN: true }),
      uMm: fc.double({ min: 0, max: 1, noNaN: true }),
      name: fc.constantFrom('A', 'B', null),
    });
    const shuffled = fc
      .array(one, { minLength: 1, maxLength: 7 })
      .map((list) => list.map(({ valueMm, uMm, name }, i) => by(name, valueMm, uMm, `r${i}`)))
      .chain((list) =>
        fc.tuple(
          fc.constant(list),
          fc.shuffledSubarray(list, { minLength: list.length, maxLength: list.length }),
        ),
      );
    fc.assert(
      fc.property(shuffled, ([list, other]) => {
        const { readings: _, ...at } = placeAt(list);
        expect(placeAt(other)).toMatchObject(at);
      }),
      { seed: 22, numRuns: 300 },
    );
  });
});

describe('whether instruments agree', () => {
  test.each([
    // 95 % quantiles of χ² (NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4, from memory).
    [1, 3.841],
    [2, 5.991],
    [3, 7.815],
    [4, 9.488],
    [5, 11.07],
    [8, 15.507],
    [9, 16.919],
  ])('with %d degrees of freedom χ² exceeds %d with a probability of 5 %', (freedom, quantile) => {
    expect(probabilityOfChiSquared(quantile, freedom)).toBeCloseTo(0.05, 4);
  });

  const two = (distance: number, u = 1) => [
    { value: 10, u },
    { value: 10 + distance, u },
  ];
  test('two with the same u: up to 1.96 × √2 u apart', () => {
    expect([agree(two(2.77)), agree(two(2.78))]).toEqual([true, false]);
  });

  test('three: χ² over two degrees of freedom; a single one agrees with itself', () => {
    // Values 0, d and 2d with u = 1: χ² = 2 d².
    const three = (d: number) => [0, d, 2 * d].map((value) => ({ value, u: 1 }));
    expect([agree(three(1.73)), agree(three(1.732))]).toEqual([true, false]);
    expect(agree([{ value: 3, u: 0 }])).toBe(true);
  });

  test('exact values agree only where they are the same', () => {
    expect([agree(two(0, 0)), agree(two(1e-6, 0))]).toEqual([true, false]);
    expect(agree([0.1, 0.1, 0.1].map((value) => ({ value, u: 0 })))).toBe(true);
    expect(agree([...two(0, 0), { value: 11, u: 1 }])).toBe(true);
  });
});
