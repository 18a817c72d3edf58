import { describe, expect, test } from 'vitest';
import type { Class } from '../../lib/rules/index.ts';
import { type Takes, takesOf } from '../../lib/rules/place.ts';
import {
  type Both,
  distribution,
  type Joint,
  judgeBoth,
  after as placeAfter,
  placeOf,
  pooledDeviation,
  worstOf,
} from '../../lib/rules/prePosterior.ts';
import { reading } from '../support/evidence.ts';
import { limitFinding, place } from './findings.ts';

const by = (name: string, id: string, valueMm: number, uMm: number) =>
  reading({ id, valueMm, uMm, instrument: { name, calibrationDue: '2030-01-01', expired: false } });
const unnamed = (id: string, valueMm: number, uMm: number) => reading({ id, valueMm, uMm, instrument: null });
const both = (guarded: Class, simple: Class): Both => ({ guarded, simple });

describe('what is known at a place', () => {
  test('the groups of its readings, each with the u of its instrument and the deviation of its repeats', () => {
    const readings = [
      by('A', 'a', 10, 0.1),
      by('A', 'b', 10.2, 0.2),
      by('B', 'c', 10.1, 0.05),
      by('A', 'd', 50, 9),
    ];
    const at = place({ readings: ['a', 'b', 'c'] });
    const { groups, takes, ...rest } = placeOf(at, readings);
    expect(rest).toEqual({ at, unsupported: [] });
    expect(takes).toEqual(takesOf(groups, []));
    expect(groups).toEqual([
      {
        method: 'gauge',
        instrument: 'A',
        value: expect.closeTo(10.1, 12),
        // s = 0.2/√2, s/√2 = 0.1 (JCGM 100 4.2.3), with the larger u of the two.
        u: expect.closeTo(Math.hypot(0.2, 0.1), 12),
        repeats: 2,
        readings: ['a', 'b'],
        ownU: 0.2,
        deviation: expect.closeTo(0.2 / Math.SQRT2, 12),
      },
      expect.objectContaining({
        instrument: 'B',
        value: 10.1,
        u: 0.05,
        repeats: 1,
        ownU: 0.05,
        deviation: 0,
      }),
    ]);
  });

  test('readings that cannot support keep stand apart, one by one', () => {
    const { groups, unsupported, takes } = placeOf(place({ readings: ['a', 'x', 'y'] }), [
      by('A', 'a', 10, 0.1),
      unnamed('x', 10.2, 0.3),
      unnamed('y', 10.6, 0.4),
    ]);
    expect(groups.map((group) => group.readings)).toEqual([['a']]);
    // Half their range is 0.2; the larger u is 0.4.
    const spreadU = expect.closeTo(Math.hypot(0.4, 0.2), 12);
    expect(unsupported).toEqual([
      { value: 10.2, u: 0.3, spreadU, readings: ['x'] },
      { value: 10.6, u: 0.4, spreadU, readings: ['y'] },
    ]);
    expect(takes).toEqual(takesOf(groups, unsupported));
  });

  test('a size from marks on a photo counts as one measurement by no instrument', () => {
    const at = place({ value: 3900, u: 50, readings: ['mark'] });
    const size = { value: 3900, u: 50, readings: ['mark'] };
    expect(placeOf(at, [by('A', 'a', 10, 0.1)])).toEqual({
      at,
      groups: [{ ...size, instrument: null, repeats: 1, ownU: 50, deviation: 0 }],
      unsupported: [],
      takes: { bearing: [{ ...size, birgeRatio: 1 }], alone: [], disagreeing: [] },
    });
  });

  test('the pooled deviation weighs each group by its degrees of freedom (JCGM 100 4.2.4 and H.3.6, from memory)', () => {
    const group = (repeats: number, deviation: number) => ({
      instrument: 'A',
      value: 10,
      u: 0.1,
      ownU: 0.1,
      repeats,
      deviation,
      readings: [],
    });
    const of = (...groups: ReturnType<typeof group>[]) => ({
      at: place(),
      groups,
      unsupported: [],
      takes: takesOf(groups, []),
    });
    expect(pooledDeviation([of(group(3, 0.2), group(1, 0)), of(group(2, 0.1))])).toBeCloseTo(
      Math.sqrt((2 * 0.04 + 0.01) / 3),
      12,
    );
    expect(pooledDeviation([of(group(1, 0))])).toBe(0);
    expect(pooledDeviation([])).toBe(0);
  });
});

describe('both classes of a place', () => {
  const finding = limitFinding({ keep: { min: 10 }, repair: { min: 9 } });
  const single = (value: number, u: number): Takes => takesOf([{ value, u, readings: [] }], []);

  test('guarded by 1.645 of u and of the new size together, simple by the value (ISO 14253-1, from memory)', () => {
    // 3 and 4 make 5: 0.5 mm, 0.822 mm beyond the bound.
    expect(judgeBoth(finding, single(10.83, 0.3), 0.4)).toEqual(both('keep', 'keep'));
    expect(judgeBoth(finding, single(10.82, 0.3), 0.4)).toEqual(both('repair', 'keep'));
    expect(judgeBoth(finding, single(9.82, 0.3), 0.4)).toEqual(both('scrap', 'repair'));
    expect(judgeBoth(finding, single(8.9, 0.3), 0)).toEqual(both('scrap', 'scrap'));
  });

  test('without repair, or with a repair that is not on offer, what is not keep is scrap', () => {
    expect(judgeBoth({ ...finding, repair: null }, single(9.5, 0), 0)).toEqual(both('scrap', 'scrap'));
    expect(judgeBoth({ ...finding, repair: null }, single(10.1, 1), 0)).toEqual(both('scrap', 'keep'));
    expect(judgeBoth({ ...finding, reworkForbidden: true }, single(9.5, 0), 0)).toEqual(
      both('scrap', 'scrap'),
    );
  });

  test('where instruments agree it is no milder than the mildest of them alone, by either rule', () => {
    // By hand: 10.15 ± 0.1 alone is 1.5 u inside; two of them are 10.15 ± 0.0707, 2.1 u inside.
    const agreeing = (...values: number[]) =>
      takesOf(
        values.map((value) => ({ value, u: 0.1, readings: [] })),
        [],
      );
    expect(judgeBoth(finding, agreeing(10.15), 0)).toEqual(both('repair', 'keep'));
    expect(judgeBoth(finding, agreeing(10.15, 10.15), 0)).toEqual(both('repair', 'keep'));
    // 10.1 and 10.2: the second alone is 2 u inside.
    expect(judgeBoth(finding, agreeing(10.1, 10.2), 0)).toEqual(both('keep', 'keep'));
    // 9.9 and 10.02: the mean of 9.96 is outside, though one alone is inside.
    expect(judgeBoth(finding, agreeing(9.9, 10.02), 0)).toEqual(both('repair', 'repair'));
  });

  test('a mean between two that lie outside on either side is not inside', () => {
    // 9.95 and 10.25 have the mean 10.1, in the middle of keep.
    const between = takesOf(
      [9.95, 10.25].map((value) => ({ value, u: 0.2, readings: [] })),
      [],
    );
    const narrow = { ...finding, keep: { min: 10, max: 10.2 }, repair: { min: 9, max: 11 } };
    expect(judgeBoth(narrow, between, 0)).toEqual(both('repair', 'repair'));
  });

  test('where they disagree it is that of the worst', () => {
    const apart = takesOf(
      [11, 9.5].map((value) => ({ value, u: 0.1, readings: [] })),
      [],
    );
    expect(judgeBoth(finding, apart, 0)).toEqual(both('repair', 'repair'));
  });
});

describe('a place after one more measurement', () => {
  const old = placeOf(place({ value: 10, u: 0.3 }), [by('old', 'r', 10, 0.3)]);
  const measured = (over: object) => ({ name: 'new', uMm: 0.4, repeats: 1, spread: 0, ...over });
  const size = (value: number, u: number, readings: string[] = []) => ({
    value: expect.closeTo(value, 12),
    u: expect.closeTo(u, 12),
    birgeRatio: 1,
    readings,
  });

  test('by another instrument: drawn with both variances, then weighted by 1/u² (3, 4, 5 by hand)', () => {
    // z = 1 draws 10 + 0.5; weights 16 and 9 of 25; χ² = 1, so that u = 0.3 × 0.4/0.5.
    expect(placeAfter(old, measured({}), 1)).toEqual({
      bearing: [size(10 + (9 * 0.5) / 25, 0.24, ['r'])],
      alone: [size(10, 0.3, ['r']), size(10.5, 0.4)],
      disagreeing: [],
    });
    // z = −1.9 draws 10 − 0.95 and widens u 1.9 times.
    expect(placeAfter(old, measured({}), -1.9).bearing).toEqual([
      {
        ...size(10 - (9 * 0.95) / 25, 1.9 * 0.24, ['r']),
        birgeRatio: expect.closeTo(1.9, 12),
      },
    ]);
  });

  test('by another instrument that disagrees (χ² = z² beyond 1.96²): each counts on its own', () => {
    // z = −2 draws 10 − 1.
    expect(placeAfter(old, measured({}), -2)).toEqual({
      bearing: [size(10, 0.3, ['r']), size(9, 0.4)],
      alone: [],
      disagreeing: ['r'],
    });
  });

  test('by another instrument with repeats that scatter: the scatter of their mean is drawn and counted', () => {
    // s/√4 = 0.3: u of the new mean is 0.5, drawn with √(0.3² + 0.5²).
    const draw = Math.hypot(0.3, 0.5);
    expect(placeAfter(old, measured({ repeats: 4, spread: 0.6 }), 1)).toMatchObject({
      bearing: [size(10 + (0.09 / 0.34) * draw, (0.3 * 0.5) / draw, ['r'])],
      alone: [{}, size(10 + draw, 0.5)],
    });
    // A single reading hides its scatter: it is drawn, not counted.
    expect(placeAfter(old, measured({ spread: 0.3 }), 1).alone[1]).toEqual(
      size(10 + Math.hypot(0.3, 0.4, 0.3), 0.4),
    );
  });

  test('by the same instrument: its own u stays, only the scatter is lessened', () => {
    const at = place({ readings: ['a', 'b', 'c'] });
    const repeated = placeOf(at, [
      by('old', 'a', 9.8, 0.1),
      by('old', 'b', 10, 0.1),
      by('old', 'c', 10.2, 0.1),
    ]);
    // s = 0.2, n = 3, one more: the mean moves by z s √(1/(3 × 4)), u = √(0.1² + 0.2²/4).
    expect(placeAfter(repeated, measured({ name: 'old', uMm: 0.05 }), 2).bearing).toEqual([
      size(10 + 2 * 0.2 * Math.sqrt(1 / 12), Math.SQRT2 / 10),
    ]);
    // An instrument said to be worse than its readings were counts with the larger u.
    expect(placeAfter(repeated, measured({ name: 'old', uMm: 0.3 }), 0).bearing).toEqual([
      size(10, Math.hypot(0.3, 0.1)),
    ]);
  });

  test('by the same instrument that read once: the scatter is what other repeats have shown', () => {
    // n = 1 and 3 more with s = 0.4: z s √(3/(1 × 4)), u = √(0.3² + 0.4²/4).
    expect(placeAfter(old, measured({ name: 'old', uMm: 0.3, repeats: 3, spread: 0.4 }), 1).bearing).toEqual([
      size(10 + 0.4 * Math.sqrt(3 / 4), Math.hypot(0.3, 0.2)),
    ]);
  });

  test('what cannot support keep still counts against the place, held against all that can', () => {
    const beside = placeOf(place({ value: 10, u: 0.3, readings: ['r', 'x'] }), [
      by('old', 'r', 10, 0.3),
      unnamed('x', 10, 0.18),
    ]);
    // 0.3 and 0.4 make 0.24; 0.24 and 0.18 make 0.24 × 0.18/0.3.
    expect(placeAfter(beside, measured({}), 0)).toEqual({
      bearing: [size(10, 0.144, ['r', 'x']), size(10, 0.24, ['r'])],
      alone: [size(10, 0.3, ['r']), size(10, 0.4)],
      disagreeing: [],
    });
  });
});

describe('the distribution of both classes', () => {
  const shares = (joint: Joint) =>
    Object.fromEntries([...joint].map(([key, { guarded, simple, p }]) => [`${guarded} ${simple} ${key}`, p]));

  test('is the normal probability between the values of z at which a class changes (standard normal table)', () => {
    const joint = distribution((z) => both(z < 1 ? 'scrap' : 'keep', z < -0.5 ? 'scrap' : 'keep'));
    expect(shares(joint)).toEqual({
      'scrap scrap scrap|scrap': expect.closeTo(0.3085375387, 9),
      'scrap keep scrap|keep': expect.closeTo(0.8413447461 - 0.3085375387, 9),
      'keep keep keep|keep': expect.closeTo(1 - 0.8413447461, 9),
    });
  });

  test('adds up what comes back, and is one where nothing changes', () => {
    const joint = distribution((z) => (Math.abs(z) < 1.96 ? both('keep', 'keep') : both('scrap', 'scrap')));
    expect(shares(joint)).toEqual({
      'keep keep keep|keep': expect.closeTo(0.9500042097, 9),
      'scrap scrap scrap|scrap': expect.closeTo(0.0499957903, 9),
    });
    expect(shares(distribution(() => both('repair', 'keep')))).toEqual({ 'repair keep repair|keep': 1 });
  });

  test('of two independent places is that of the worse one by each rule', () => {
    const one = (p: number): Joint =>
      new Map([
        ['keep|keep', { ...both('keep', 'keep'), p: 1 - p }],
        ['scrap|repair', { ...both('scrap', 'repair'), p }],
      ]);
    const other: Joint = new Map([
      ['repair|repair', { ...both('repair', 'repair'), p: 0.25 }],
      ['keep|scrap', { ...both('keep', 'scrap'), p: 0.75 }],
    ]);
    expect(shares(worstOf(one(0.2), other))).toEqual({
      'repair repair repair|repair': expect.closeTo(0.8 * 0.25, 12),
      'keep scrap keep|scrap': expect.closeTo(0.8 * 0.75, 12),
      'scrap repair scrap|repair': expect.closeTo(0.2 * 0.25, 12),
      'scrap scrap scrap|scrap': expect.closeTo(0.2 * 0.75, 12),
    });
    // Where two ways lead to one pair their probabilities add.
    expect(worstOf(one(0.2), one(0.5)).get('scrap|repair')?.p).toBeCloseTo(1 - 0.8 * 0.5, 12);
  });
});
