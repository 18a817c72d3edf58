import { describe, expect, test } from 'vitest';
import {
  classOf,
  type Place,
  placeAt,
  placesOf,
  positionOf,
  takesOf,
  unsupportedAt,
} from '../../lib/rules/place.ts';
import { reading } from '../support/evidence.ts';

const by = (name: string | null, id: string, valueMm: number, uMm: number, clock: number | null = 6) =>
  reading({
    id,
    valueMm,
    uMm,
    clock,
    instrument: name === null ? null : { name, calibrationDue: '2030-01-01', expired: false },
  });
const expired = (id: string, valueMm: number, uMm: number) =>
  reading({
    id,
    valueMm,
    uMm,
    instrument: { name: 'Old', calibrationDue: '2020-01-01', expired: true },
  });
const group = (id: string, value: number, u: number) => ({ value, u, readings: [id] });
const weak = (id: string, value: number, u: number, spreadU = u) => ({ ...group(id, value, u), spreadU });
const taken = (value: number, u: number, ...readings: string[]) => ({
  value: expect.closeTo(value, 12),
  u: expect.closeTo(u, 12),
  birgeRatio: 1,
  readings,
});

/** How the readings of a place are taken is our own specification; the numbers are worked by hand. */
describe('what instruments that can support keep say together', () => {
  test('one of them is taken as it is', () => {
    expect(takesOf([group('a', 10, 0.3)], [])).toEqual({
      bearing: [taken(10, 0.3, 'a')],
      alone: [],
      disagreeing: [],
    });
  });

  test('those that agree are put together, with each of them beside', () => {
    // 0.3 and 0.4 make 0.24; weights 16 and 9 of 25.
    expect(takesOf([group('a', 10, 0.3), group('b', 10.25, 0.4)], [])).toEqual({
      bearing: [taken(10.09, 0.24, 'a', 'b')],
      alone: [taken(10, 0.3, 'a'), taken(10.25, 0.4, 'b')],
      disagreeing: [],
    });
  });

  test('those that differ by more than 1.96 of the u of their distance count each on its own', () => {
    // √(0.3² + 0.4²) = 0.5: 0.98 at most.
    const apart = (distance: number) => takesOf([group('a', 10, 0.3), group('b', 10 + distance, 0.4)], []);
    expect(apart(0.979).disagreeing).toEqual([]);
    expect(apart(0.981)).toEqual({
      bearing: [taken(10, 0.3, 'a'), taken(10.981, 0.4, 'b')],
      alone: [],
      disagreeing: ['a', 'b'],
    });
  });

  test('without readings nothing is said', () => {
    expect(takesOf([], [])).toEqual({ bearing: [], alone: [], disagreeing: [] });
  });
});

describe('what readings that cannot support keep say', () => {
  test('alone at a place each counts by itself with the u of the scatter, and none disagrees', () => {
    expect(takesOf([], [weak('x', 10, 0.1, 0.5), weak('y', 20, 0.2, 0.6)])).toEqual({
      bearing: [taken(10, 0.5, 'x'), taken(20, 0.6, 'y')],
      alone: [],
      disagreeing: [],
    });
  });

  test('where one agrees with the others it is put together with them by its own u, and they count without it too', () => {
    expect(takesOf([group('a', 10, 0.3)], [weak('x', 10.25, 0.4, 9)])).toEqual({
      bearing: [taken(10.09, 0.24, 'a', 'x'), taken(10, 0.3, 'a')],
      alone: [],
      disagreeing: [],
    });
  });

  test('where one disagrees it counts by itself with the u of the scatter', () => {
    expect(takesOf([group('a', 10, 0.3)], [weak('x', 9, 0.4, 0.5)])).toEqual({
      bearing: [taken(9, 0.5, 'x'), taken(10, 0.3, 'a')],
      alone: [],
      disagreeing: ['a', 'x'],
    });
  });

  test('each is held against the others without its like', () => {
    const { bearing, disagreeing } = takesOf(
      [group('a', 10, 0.3)],
      [weak('x', 10.25, 0.4), weak('y', 10.25, 0.4), weak('z', 12, 0.4)],
    );
    expect(bearing).toEqual([
      taken(10.09, 0.24, 'a', 'x'),
      taken(10.09, 0.24, 'a', 'y'),
      taken(12, 0.4, 'z'),
      taken(10, 0.3, 'a'),
    ]);
    expect(disagreeing).toEqual(['a', 'z']);
  });

  test('beside several that agree it is held against all of them: χ² over two degrees of freedom, 5.991', () => {
    // Two of 10 ± 1 and one of 10 + d ± 1: χ² = 2 d²/3, 5.991 at d = 2.998.
    const beside = (d: number) => takesOf([group('a', 10, 1), group('b', 10, 1)], [weak('x', 10 + d, 1)]);
    expect(beside(2.99).bearing[0]).toMatchObject({
      value: expect.closeTo(10 + 2.99 / 3, 12),
      readings: ['a', 'b', 'x'],
    });
    expect(beside(3).bearing).toEqual([taken(13, 1, 'x'), taken(10, Math.SQRT1_2, 'a', 'b')]);
    expect(beside(3).disagreeing).toEqual(['a', 'b', 'x']);
    expect(beside(3).alone).toEqual([taken(10, 1, 'a'), taken(10, 1, 'b')]);
  });

  test('no reading is told twice to disagree', () => {
    const { disagreeing } = takesOf(
      [group('a', 10, 0.1), group('b', 12, 0.1)],
      [weak('x', 14, 0.1), weak('y', 16, 0.1)],
    );
    expect(disagreeing).toEqual(['a', 'b', 'x', 'y']);
  });

  test('the u of the scatter: the largest u of the instrument with half the range of its readings here', () => {
    const close = (u: number) => expect.closeTo(u, 12);
    expect(
      unsupportedAt([
        expired('x', 10, 0.3),
        expired('y', 10.8, 0.2),
        expired('z', 10.4, 0.1),
        by(null, 'n', 11, 0.6),
      ]),
    ).toEqual([
      weak('n', 11, 0.6),
      { ...weak('x', 10, 0.3), spreadU: close(0.5) },
      { ...weak('y', 10.8, 0.2), spreadU: close(0.5) },
      { ...weak('z', 10.4, 0.1), spreadU: close(0.5) },
    ]);
  });
});

describe('the class of a place', () => {
  test('is the worst by what bears on it', () => {
    expect(classOf(['keep', 'scrap', 'repair'], [])).toBe('scrap');
    expect(classOf(['keep', 'repair'], [])).toBe('repair');
    expect(classOf(['keep'], [])).toBe('keep');
  });

  test('and no milder than the mildest of the instruments alone', () => {
    expect(classOf(['keep'], ['repair', 'scrap'])).toBe('repair');
    expect(classOf(['keep'], ['scrap', 'keep'])).toBe('keep');
    expect(classOf(['keep'], ['scrap', 'scrap'])).toBe('scrap');
    expect(classOf(['repair'], ['keep', 'keep'])).toBe('repair');
  });

  test('is none where nothing bears on it', () => {
    expect(() => classOf([], [])).toThrow();
  });
});

describe('places', () => {
  test('stand round the clock, readings without a place first, each with all that was read there', () => {
    const readings = [
      by('A', 'r2', 10, 0.1, 9),
      by('A', 'b', 12, 0.1, 3),
      by('A', 'r10', 11, 0.1, 9),
      by('A', 'a', 13, 0.1, null),
      by('A', 'c', 14, 0.1, 12),
    ];
    expect(placesOf(readings).map(({ clock, readings: here }) => [clock, here.map(({ id }) => id)])).toEqual([
      [null, ['a']],
      [3, ['b']],
      [9, ['r2', 'r10']],
      [12, ['c']],
    ]);
    expect(placesOf([])).toEqual([]);
  });

  test('hold the instruments that can support keep before those that cannot', () => {
    const { groups, takes } = placeAt([expired('x', 10, 0.4), by('Z', 'a', 10, 0.3)]);
    expect(groups.map(({ instrument, readings }) => [instrument, readings])).toEqual([
      ['Z', ['a']],
      ['Old', ['x']],
    ]);
    expect(takes.bearing).toEqual([taken(10, 0.24, 'a', 'x'), taken(10, 0.3, 'a')]);
  });
});

describe('a place with the value that governs there', () => {
  const position = (place: Place, take: number) => {
    const one = place.takes.bearing[take];
    if (one === undefined) throw new Error('no such value');
    return positionOf(place, one);
  };

  test('of one instrument: value, u and the readings it is made of', () => {
    const place = placeAt([by('A', 'b', 10, 0.3), by('A', 'a', 10, 0.3)]);
    expect(position(place, 0)).toEqual({ clock: 6, value: 10, u: 0.3, repeats: 2, readings: ['a', 'b'] });
  });

  test('of several that agree: each of them, and what u was widened by', () => {
    // 0.75/0.5 = 1.5 of their distance.
    const place = placeAt([by('A', 'b', 10, 0.3), by('B', 'a', 10.75, 0.4)]);
    expect(position(place, 0)).toEqual({
      clock: 6,
      value: expect.closeTo(10 + (9 * 0.75) / 25, 12),
      u: expect.closeTo(1.5 * 0.24, 12),
      birgeRatio: expect.closeTo(1.5, 12),
      repeats: 2,
      readings: ['a', 'b'],
      groups: place.groups,
    });
  });

  test('of some of the readings: which of them count', () => {
    const place = placeAt([expired('x', 10, 0.4), by('A', 'b', 10, 0.3), by('A', 'a', 10, 0.3)]);
    expect(position(place, 1)).toMatchObject({ value: 10, u: 0.3, repeats: 3, counted: ['a', 'b'] });
    expect(position(place, 1)).not.toHaveProperty('disagree');
  });

  test('where instruments disagree: that they do', () => {
    const place = placeAt([by('A', 'a', 10, 0.3), by('B', 'b', 11, 0.4)]);
    expect(position(place, 1)).toMatchObject({
      value: 11,
      u: 0.4,
      birgeRatio: 1,
      counted: ['b'],
      disagree: true,
    });
  });
});
