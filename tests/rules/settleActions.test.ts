import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type InstrumentAtHand, type ReadingEvidence, whatWouldSettle } from '../../lib/rules/index.ts';
import { normalCdf } from '../../lib/units/index.ts';
import { at, closedForm, findingOf } from './settling.ts';

const settle = (readings: readonly ReadingEvidence[], ...instruments: InstrumentAtHand[]) =>
  must(whatWouldSettle(findingOf(readings), readings, instruments) ?? undefined, 'settling');
const named = (readings: readonly ReadingEvidence[], ...instruments: InstrumentAtHand[]) =>
  settle(readings, ...instruments).actions.map(({ places, instrument, repeats }) => [
    places,
    instrument,
    repeats,
  ]);

/** Two places are independent: kept where both are, scrap where either is (worked by hand). */
function closedFormOfTwo(uNew: number) {
  const [one, other] = [closedForm(10.5, 10.56, 0.06, uNew), closedForm(10.5, 10.7, 0.3, uNew)];
  return { keep: one.keep * other.keep, scrap: 1 - (1 - one.scrap) * (1 - other.scrap) };
}

describe('two doubtful places, against the closed form', () => {
  const readings = [at(3, 10.56, 0.06), at(6, 10.7, 0.3), at(9, 14, 0.1)];

  test.each([0.02, 0.1])('both measured with u = %d mm', (uMm) => {
    const both = must(
      settle(readings, { name: 'new', uMm }).actions.find((action) => action.places.length === 2),
      'both',
    );
    const expected = closedFormOfTwo(uMm);
    expect(both.as.keep).toBeCloseTo(expected.keep, 8);
    expect(both.as.scrap).toBeCloseTo(expected.scrap, 8);
    expect(both.settled).toBeCloseTo(expected.keep + expected.scrap, 8);
  });

  test('one of them alone can only show that it is scrap; below 25 % it is not named', () => {
    const { actions } = settle(readings, { name: 'new', uMm: 0.02 });
    const alone = (clock: number) =>
      actions.find((action) => action.places.length === 1 && action.places[0] === clock);
    const { scrap } = closedForm(10.5, 10.7, 0.3, 0.02);
    expect(alone(6)?.as).toEqual({ keep: 0, repair: 0, scrap: expect.closeTo(scrap, 8) });
    expect(closedForm(10.5, 10.56, 0.06, 0.02).scrap).toBeLessThan(0.25);
    expect(alone(3)).toBeUndefined();
  });

  test('the u that is needed settles both with 80 %, whichever place is known worse', () => {
    for (const order of [readings, [...readings].reverse()]) {
      const needed = must(settle(order).neededU ?? undefined, 'u');
      const { keep, scrap } = closedFormOfTwo(needed);
      expect(keep + scrap).toBeCloseTo(0.8, 4);
    }
  });
});

/** What is asked of the ranking is our own specification, no source. */
describe('the order of the actions', () => {
  const doubtful = [at(6, 10.55, 0.1)];

  test('the surer first; of equals the one whose name stands first', () => {
    const [fine, finer] = [
      { name: 'z fine', uMm: 0.012 },
      { name: 'finer', uMm: 0.01 },
    ];
    expect(named(doubtful, fine, finer).map(([, name]) => name)).toEqual(['finer', 'z fine']);
    const twins = ['b', 'a', 'c'].map((name) => ({ name, uMm: 0.01 }));
    expect(named(doubtful, ...twins).map(([, name]) => name)).toEqual(['a', 'b', 'c']);
  });

  test('of nearly equal ones the fewest readings, though another is a little surer', () => {
    const scattered = Array.from({ length: 6 }, (_, i) =>
      at(6, 10.53 + (i % 2 === 0 ? 0.2 : -0.2), 0.05, 'old', `r${i}`),
    );
    const { actions } = settle(scattered, { name: 'old', uMm: 0.05 }, { name: 'new', uMm: 0.01 });
    const [first, second] = [must(actions[0], 'first'), must(actions[1], 'second')];
    expect([first.instrument, second.instrument]).toEqual(['new', 'old']);
    expect(first.repeats).toBeLessThan(second.repeats);
    expect(first.settled).toBeLessThan(second.settled);
    expect(second.settled - first.settled).toBeLessThan(0.02);
  });

  test('of surer ones never the fewer readings: two places at once before one of them', () => {
    const readings = [at(3, 10.56, 0.06), at(6, 10.7, 0.3)];
    expect(named(readings, { name: 'new', uMm: 0.02 })).toEqual([
      [[3, 6], 'new', 1],
      [[6], 'new', 1],
    ]);
  });

  test('an action that seldom settles anything is not named: 25 % at least', () => {
    // At 3 o'clock 0.67 standard uncertainties from the limit are scrap with 25 %.
    const alone = (value: number) =>
      named([at(3, value, 0.1), at(6, 10.55, 0.1)], { name: 'new', uMm: 0.0001 }).filter(
        ([places]) => JSON.stringify(places) === '[3]',
      ).length;
    expect(normalCdf(-0.67)).toBeGreaterThan(0.25);
    expect(normalCdf(-0.68)).toBeLessThan(0.25);
    expect([alone(10.567), alone(10.568)]).toEqual([1, 0]);
  });
});

describe('how often to measure', () => {
  test('once where nothing is known of a scatter', () => {
    expect(named([at(6, 10.55, 0.1)], { name: 'new', uMm: 0.02 })).toEqual([[[6], 'new', 1]]);
  });

  test('once with the instrument whose scatter is known, twice at least with another', () => {
    // The mean lies just inside: whatever is read, it is scrap as often as not.
    const readings = Array.from({ length: 6 }, (_, i) =>
      at(6, 10.501 + (i % 2 === 0 ? 0.1 : -0.1), 0.05, 'old', `r${i}`),
    );
    const times = settle(readings, { name: 'old', uMm: 0.05 }, { name: 'new', uMm: 0.05 }).actions.map(
      ({ instrument, repeats }) => [instrument, repeats],
    );
    expect(Object.fromEntries(times)).toEqual({ old: 1, new: 2 });
  });
});
