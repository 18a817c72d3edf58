import { describe, expect, test } from 'vitest';
import { type LimitRow, placesOfLimit } from '../../lib/tolerances/index.ts';
import { DIAMETER_CODES } from '../../lib/wheel/index.ts';
import { tableOf } from '../support/evidence.ts';
import { limit } from './lintRows.ts';

/** The places where the one limit of a table can decide, without their diameters. */
function placesOf(row: object, scope: object = {}) {
  const table = tableOf([limit(row)], { scope });
  return placesOfLimit(table, table.rows[0] as LimitRow);
}
const where = (...args: Parameters<typeof placesOf>) => [
  ...new Set(
    placesOf(...args).map(({ component, zone, state }) => [component, zone, state ?? 'as it is'].join(', ')),
  ),
];
const codes = (...args: Parameters<typeof placesOf>) =>
  placesOf(...args).map(({ diameterCode }) => diameterCode);

const anywhere = { components: undefined };

describe('a limit can decide', () => {
  test('where its characteristic is taken, at every diameter', () => {
    expect(where(anywhere)).toEqual(['rim base, gutter groove, as it is']);
    expect(codes(anywhere)).toEqual(DIAMETER_CODES);
  });

  test('in every zone where it is taken, or in those that it names', () => {
    const wear = { ...anywhere, characteristic: 'bead seat wear', keep: { max: 1 }, repair: null };
    expect(where(wear)).toEqual([
      'rim base, back bead seat, as it is',
      'side flange, bead seat, as it is',
      'bead seat band, bead seat, as it is',
    ]);
    expect(where({ ...wear, zones: ['bead seat'] })).toEqual([
      'side flange, bead seat, as it is',
      'bead seat band, bead seat, as it is',
    ]);
    expect(where({ ...wear, components: ['rim base', 'lock ring'] })).toEqual([
      'rim base, back bead seat, as it is',
    ]);
    expect(where(wear, { components: ['bead seat band'] })).toEqual(['bead seat band, bead seat, as it is']);
  });

  test('in every state in which it is taken, or in those that it names', () => {
    const gap = { ...anywhere, characteristic: 'lock-ring gap', repair: null };
    expect(where(gap)).toEqual(
      ['free', 'fitted', 'inflated'].map((state) => `lock ring, ring ends, ${state}`),
    );
    expect(where({ ...gap, states: ['inflated', 'free'] })).toEqual([
      'lock ring, ring ends, free',
      'lock ring, ring ends, inflated',
    ]);
  });

  test('at the diameters of both the row and the table, ends included', () => {
    expect(codes({ diameterCodes: { min: 29, max: 35 } })).toEqual([29, 33, 35]);
    expect(codes({}, { diameterCodes: { min: 57, max: 63 } })).toEqual([57, 63]);
    expect(codes({ diameterCodes: { min: 49, max: 57 } }, { diameterCodes: { min: 51, max: 63 } })).toEqual([
      51, 57,
    ]);
  });

  test('nowhere when nothing of it is taken', () => {
    expect(placesOf({ components: ['O-ring'] })).toEqual([]);
    expect(placesOf({ zones: ['gutter lip'] })).toEqual([]);
    expect(placesOf({ states: ['free'] })).not.toEqual([]);
  });
});
