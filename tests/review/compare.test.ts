import { describe, expect, test } from 'vitest';
import { compareReadings } from '../../lib/review/index.ts';
import type { ReadingEvidence } from '../../lib/rules/index.ts';

const reading = (
  id: string,
  valueMm: number,
  uMm: number,
  over: Partial<ReadingEvidence> = {},
): ReadingEvidence => ({
  id,
  characteristic: 'gutter depth',
  zone: 'gutter groove',
  clock: 3,
  state: null,
  valueMm,
  uMm,
  method: 'gauge',
  typed: `${valueMm}`,
  instrument: { name: 'depth gauge 1', calibrationDue: null, expired: false },
  ...over,
});

describe('readings of two people as pairs', () => {
  test('difference, expanded uncertainty and normalised error by hand: u 0.3 and 0.4 give U = 1 mm', () => {
    const [pair] = compareReadings([reading('a', 10, 0.3)], [reading('b', 11.5, 0.4)]);
    expect(pair?.difference).toBeCloseTo(1.5, 12);
    expect(pair?.U).toBeCloseTo(1, 12);
    expect(pair?.En).toBeCloseTo(1.5, 12);
  });

  test('at the limit, below and above it', () => {
    const at = (second: number) =>
      compareReadings([reading('a', 10, 0.3)], [reading('b', second, 0.4)])[0]?.En;
    expect(at(10.99)).toBeLessThan(1);
    expect(at(11)).toBeCloseTo(1, 12);
    expect(at(9)).toBeCloseTo(-1, 12);
    expect(at(8.99)).toBeLessThan(-1);
  });

  test('repeats at a place are one value, and their spread counts', () => {
    const [pair] = compareReadings(
      [reading('a', 10, 0.1), reading('b', 10.4, 0.1)],
      [reading('c', 10.2, 0.1)],
    );
    expect(pair?.first?.value).toBeCloseTo(10.2, 12);
    // s/√n = 0.2828…/√2 = 0.2, in quadrature with the instrument's 0.1 (JCGM 100 4.2).
    expect(pair?.first?.u).toBeCloseTo(Math.hypot(0.1, 0.2), 12);
    expect(pair?.difference).toBeCloseTo(0, 12);
  });

  test('other positions and other states are other places; a place that one of them did not read has no figure', () => {
    const pairs = compareReadings(
      [reading('a', 10, 0.1), reading('b', 9, 0.1, { clock: 6 })],
      [reading('c', 10, 0.1), reading('d', 8, 0.1, { clock: null, state: 'free' })],
    );
    expect(pairs.map(({ clock, state, En }) => [clock, state, En])).toEqual([
      [3, null, 0],
      [6, null, null],
      [null, 'free', null],
    ]);
    expect(pairs[1]?.second).toBeNull();
    expect(pairs[2]?.first).toBeNull();
  });

  test('without any stated uncertainty there is a difference and no normalised error', () => {
    const [pair] = compareReadings([reading('a', 10, 0)], [reading('b', 11, 0)]);
    expect(pair).toMatchObject({ difference: 1, U: 0, En: null });
  });
});
