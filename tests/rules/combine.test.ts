import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { atPosition, combine, groupsAt, positionsOf, sampleDeviation } from '../../lib/rules/combine.ts';
import { reading } from '../support/evidence.ts';

const gauge = (name: string) => ({ name, calibrationDue: '2030-01-01', expired: false });
const by = (name: string | null, valueMm: number, uMm: number, id = `${name} ${valueMm}`) =>
  reading({ id, valueMm, uMm, instrument: name === null ? null : gauge(name) });

describe('repeats with one instrument', () => {
  test('mean, and s/√n in quadrature with the largest u of the instrument (JCGM 100 4.2.3 and 5.1.2)', () => {
    const at = atPosition([by('A', 10, 0.1), by('A', 11, 0.2), by('A', 12, 0.1)]);
    expect(at.value).toBe(11);
    expect(at.u).toBeCloseTo(Math.hypot(0.2, 1 / Math.sqrt(3)), 14);
    expect(at).not.toHaveProperty('groups');
    expect(at).not.toHaveProperty('birgeRatio');
  });

  test('averaging does not lessen the u of the instrument: repeats that agree leave it as it is', () => {
    const same = [1, 2, 3, 4].map((n) => by('A', 10, 0.1, `r${n}`));
    expect(atPosition(same).u).toBe(0.1);
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

describe('places', () => {
  test('stand round the clock, readings without a place first, each with all that was read there', () => {
    const at = (id: string, clock: number | null, valueMm: number) => reading({ id, clock, valueMm });
    const places = positionsOf([at('r2', 9, 10), at('r10', 9, 11), at('b', 3, 12), at('a', null, 13)]);
    expect(places.map(({ clock, value, repeats, readings }) => [clock, value, repeats, readings])).toEqual([
      [null, 13, 1, ['a']],
      [3, 12, 1, ['b']],
      [9, 10.5, 2, ['r10', 'r2']],
    ]);
  });

  test('without readings there is none, and nothing to combine', () => {
    expect(positionsOf([])).toEqual([]);
    expect(() => combine([])).toThrow('nothing to combine');
  });
});

describe('different instruments at one place', () => {
  test('weighted mean and its u where they agree: weights 1 and 4 (Cochran 1954, from memory)', () => {
    const at = atPosition([by('A', 10, 0.2), by('B', 10.1, 0.1)]);
    expect(at.value).toBeCloseTo((10 + 4 * 10.1) / 5, 12);
    expect(at.u).toBeCloseTo(1 / Math.sqrt(25 + 100), 12);
    expect(at.birgeRatio).toBe(1);
    expect(at.groups?.map((group) => [group.instrument, group.value, group.u])).toEqual([
      ['A', 10, 0.2],
      ['B', 10.1, 0.1],
    ]);
  });

  test('where they disagree u is widened by √(χ²/(G − 1)) (Birge 1932, from memory)', () => {
    // Mean 10.5, χ² = 2 × (0.5 / 0.1)² = 50, u = 0.1/√2 × √50 = 0.5: half their distance, whatever they claim.
    const at = atPosition([by('A', 10, 0.1), by('B', 11, 0.1)]);
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
        expect(atPosition(other)).toEqual(atPosition(list));
      }),
      { seed: 22, numRuns: 300 },
    );
  });
});
