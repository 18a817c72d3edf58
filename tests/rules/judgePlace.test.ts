import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { CLASSES, type ReadingEvidence } from '../../lib/rules/index.ts';
import { judgePlace, sizeLimits, worstFirst } from '../../lib/rules/judgePlace.ts';
import { placeAt } from '../../lib/rules/place.ts';
import type { LimitRow } from '../../lib/tolerances/index.ts';
import { depthLimit, reading, tableOf } from '../support/evidence.ts';

const by = (name: string, valueMm: number, uMm: number, id = name) =>
  reading({
    id,
    valueMm,
    uMm,
    instrument: { name, calibrationDue: '2030-01-01', expired: false },
  });
function limits(over: object = {}) {
  return sizeLimits(must(tableOf([depthLimit(over)]).rows[0], 'row') as LimitRow);
}
const GUARDED = { rule: 'guarded', risk: 0.05 } as const;
const SIMPLE = { rule: 'simple acceptance', risk: 0.05 } as const;
const judged = (readings: readonly ReadingEvidence[], over: object = {}, decision = GUARDED) =>
  judgePlace(placeAt(readings), limits(over), decision);

describe('the bounds of a row as sizes', () => {
  test('are those it gives, or counted from the new size, whose u is then in them (values by hand)', () => {
    expect(limits({ repair: null })).toEqual({ keep: { min: 10 }, repair: null, u: 0 });
    const lost = { boundsOf: 'percent lost', nominal: { value: 12.5, u: 0.1 } };
    // 12.5 less 20 % and 36 %; the nearer bound is known to 80 % of 0.1.
    expect(limits({ ...lost, keep: { max: 20 }, repair: { max: 36 } })).toEqual({
      keep: { min: expect.closeTo(10, 12) },
      repair: { min: expect.closeTo(8, 12) },
      u: expect.closeTo(0.08, 12),
    });
  });
});

/** Guarded acceptance: JCGM 106:2012 8.3.2; Φ from the standard normal table. */
describe('one place read with one instrument', () => {
  test('the chances of being beyond, the distance to keep, and both classes', () => {
    expect(judged([by('A', 10.2, 0.2)])).toEqual({
      governing: { clock: 6, value: 10.2, u: 0.2, repeats: 1, readings: ['A'] },
      // Φ(−1) and Φ(−6).
      beyondKeep: expect.closeTo(0.1586552539, 9),
      beyondRepair: expect.closeTo(9.87e-10, 11),
      margin: expect.closeTo(0.2, 12),
      guardedClass: 'repair',
      simpleClass: 'keep',
    });
  });

  test('without repair what is not keep is scrap', () => {
    const { beyondKeep, beyondRepair, guardedClass } = judged([by('A', 10.2, 0.2)], { repair: null });
    expect([beyondRepair, guardedClass]).toEqual([beyondKeep, 'scrap']);
  });

  test('the u of the new size adds in quadrature: 3 and 4 make 5', () => {
    const row = {
      boundsOf: 'from nominal',
      nominal: { value: 12, u: 0.4 },
      keep: { min: -2 },
      repair: null,
    };
    // 0.5 mm inside is 1 of 0.5.
    expect(judged([by('A', 10.5, 0.3)], row).beyondKeep).toBeCloseTo(0.1586552539, 9);
  });
});

describe('a place read with several', () => {
  test('of the ways to take them that give the class, the one with the most readings is shown', () => {
    expect(judged([by('A', 12, 0.3), by('B', 12.25, 0.4)])).toMatchObject({
      guardedClass: 'keep',
      governing: { value: expect.closeTo(12.09, 12), u: expect.closeTo(0.24, 12), readings: ['A', 'B'] },
    });
    expect(judged([by('A', 12, 0.3), by('B', 12.25, 0.4)]).governing).not.toHaveProperty('counted');
  });

  test('together keep, each alone not: the class is the mildest alone, and the worst that gives it is shown', () => {
    // 1.3 and 1.5 u inside alone; together 10.14 ± 0.0707, 1.98 u inside.
    const doubtful = judged([by('A', 10.13, 0.1), by('B', 10.15, 0.1)]);
    expect(doubtful).toMatchObject({
      guardedClass: 'repair',
      simpleClass: 'keep',
      governing: { value: 10.13, u: 0.1, counted: ['A'] },
      // Φ(−1.3).
      beyondKeep: expect.closeTo(0.0968004846, 9),
    });
  });

  test('the rule of the table says which value governs; both classes are told all the same', () => {
    const simple = judgePlace(placeAt([by('A', 10.13, 0.1), by('B', 10.15, 0.1)]), limits(), SIMPLE);
    expect(simple).toMatchObject({
      guardedClass: 'repair',
      simpleClass: 'keep',
      governing: { value: expect.closeTo(10.14, 12), readings: ['A', 'B'] },
    });
    expect(simple.governing).not.toHaveProperty('counted');
  });

  test('a mean between two that lie outside on either side is not inside, and is not the value shown', () => {
    // 9.95 and 10.25 have the mean 10.1, in the middle of keep; each alone is 0.05 mm beyond it.
    const narrow = { keep: { min: 10, max: 10.2 }, repair: { min: 9, max: 11 } };
    const between = judgePlace(placeAt([by('A', 9.95, 0.2), by('B', 10.25, 0.2)]), limits(narrow), SIMPLE);
    expect(between).toMatchObject({ simpleClass: 'repair', margin: expect.closeTo(-0.05, 12) });
    expect(between.governing.counted).toHaveLength(1);
  });

  test('where they disagree the worst governs', () => {
    expect(judged([by('A', 12, 0.1), by('B', 9.5, 0.1)])).toMatchObject({
      guardedClass: 'repair',
      simpleClass: 'repair',
      margin: -0.5,
      governing: { value: 9.5, u: 0.1, counted: ['B'], disagree: true },
    });
  });

  test('readings that cannot support keep never make it milder, however many there are', () => {
    const value = fc.double({ min: 8, max: 12, noNaN: true });
    const u = fc.double({ min: 0.01, max: 1, noNaN: true });
    const good = fc.record({ value, u, name: fc.constantFrom('A', 'B') });
    const weak = fc.record({ value, u, name: fc.constantFrom('Old', null) });
    const asRead =
      (prefix: string, expired: boolean) =>
      (one: { value: number; u: number; name: string | null }, i: number) =>
        reading({
          id: `${prefix}${i}`,
          valueMm: one.value,
          uMm: one.u,
          instrument: one.name === null ? null : { name: one.name, calibrationDue: '2030-01-01', expired },
        });
    let worsened = 0;
    fc.assert(
      fc.property(
        fc.array(good, { maxLength: 3 }),
        fc.array(weak, { minLength: 1, maxLength: 4 }),
        fc.constantFrom({}, { keep: { min: 9.5, max: 10.5 }, repair: { min: 9, max: 11 } }),
        (goods, weaks, row) => {
          const before = [...goods.map(asRead('g', false)), ...weaks.slice(1).map(asRead('w', true))];
          if (before.length === 0) return;
          const more = must(weaks.slice(0, 1).map(asRead('x', true))[0], 'reading');
          for (const rule of ['guardedClass', 'simpleClass'] as const) {
            const [was, is] = [judged(before, row)[rule], judged([...before, more], row)[rule]];
            expect(CLASSES.indexOf(is)).toBeGreaterThanOrEqual(CLASSES.indexOf(was));
            if (is !== was) worsened += 1;
          }
        },
      ),
      { seed: 51, numRuns: 500 },
    );
    expect(worsened).toBeGreaterThan(50);
  });
});

describe('which of two is worse', () => {
  const one = {
    beyondKeep: 0.2,
    beyondRepair: 0.1,
    margin: 1,
    guardedClass: 'repair',
    simpleClass: 'keep',
  } as const;
  const order = (over: object, decision: 'guarded' | 'simple acceptance' = 'guarded') =>
    Math.sign(worstFirst(decision)({ ...one, ...over }, one));

  test('the class by the rule that decides, whatever the chances', () => {
    const milder = { beyondRepair: 0, beyondKeep: 0, margin: 9 };
    expect(order({ ...milder, guardedClass: 'scrap' })).toBe(-1);
    expect(order({ ...milder, simpleClass: 'scrap' })).toBe(1);
    expect(order({ ...milder, simpleClass: 'scrap' }, 'simple acceptance')).toBe(-1);
    expect(order({ ...milder, guardedClass: 'scrap' }, 'simple acceptance')).toBe(1);
  });

  test('of one class the likelier beyond repair, then beyond keep, then the one nearer to the bound', () => {
    expect(order({ beyondRepair: 0.11, beyondKeep: 0.1, margin: 2 })).toBe(-1);
    expect(order({ beyondKeep: 0.21, margin: 2 })).toBe(-1);
    expect(order({ beyondKeep: 0.19, margin: 0 })).toBe(1);
    expect(order({ margin: 0.9 })).toBe(-1);
    expect(order({})).toBe(0);
  });
});
