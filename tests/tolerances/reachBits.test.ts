import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type LimitRow, placesOfLimit, type Table } from '../../lib/tolerances/index.ts';
import { bitsOf, reachesMeet, reachesWithin, reachOfLimit } from '../../lib/tolerances/reach.ts';
import { ComponentKind, RingState, ZoneId } from '../../lib/wheel/index.ts';
import { tableOf } from '../support/evidence.ts';
import { limit } from './lintRows.ts';

const some = <T>(all: readonly T[]) =>
  fc.option(fc.subarray([...all], { minLength: 1 }), { nil: undefined, freq: 2 });
const sizes = fc.option(
  fc.tuple(fc.integer({ min: 20, max: 65 }), fc.integer({ min: 0, max: 20 })).map(([min, more]) => ({
    min,
    max: min + more,
  })),
  { nil: undefined, freq: 2 },
);
const row = fc.record({
  components: some(ComponentKind.options),
  zones: some(ZoneId.options),
  states: some(RingState.options),
  diameterCodes: sizes,
});

function placeWords(table: Table, index: number): Set<string> {
  const places = placesOfLimit(table, must(table.rows[index], `${index}`) as LimitRow);
  return new Set(places.map((place) => JSON.stringify(place)));
}

describe('the places of limits as bits', () => {
  test.each(['lock-ring gap', 'pitting depth', 'bead seat wear'])(
    'meet, and lie within each other, as the places themselves do: %s',
    (characteristic) => {
      const outcomes = new Set<string>();
      fc.assert(
        fc.property(row, row, some(ComponentKind.options), sizes, (one, other, components, diameterCodes) => {
          const rows = [one, other].map((over, i) => limit({ ...over, characteristic, row: `${i}` }));
          const table = tableOf(rows, { scope: { components, diameterCodes } });
          const [a, b] = [placeWords(table, 0), placeWords(table, 1)];
          const [ra, rb] = table.rows.map((each) => reachOfLimit(table, each as LimitRow));
          if (ra === undefined || rb === undefined) throw new Error('two rows');
          const meeting = [...a].some((place) => b.has(place));
          const within = [...a].every((place) => b.has(place));
          expect(reachesMeet(ra, rb)).toBe(meeting);
          if (a.size > 0) expect(reachesWithin(ra, rb)).toBe(within);
          outcomes.add(`${meeting} ${a.size > 0 && within}`);
        }),
        { numRuns: 300 },
      );
      expect(outcomes).toContain('false false');
      expect(outcomes).toContain('true true');
      expect(outcomes).toContain('true false');
    },
  );

  test('hold up to 32 of a sort', () => {
    const all = Array.from({ length: 32 }, (_, i) => i);
    expect(bitsOf(all, [0, 3])).toBe(9);
    expect(bitsOf(all, [31]) >>> 0).toBe(2 ** 31);
    expect(() => bitsOf([...all, 32], [])).toThrow('at most 32 of a sort');
  });
});
