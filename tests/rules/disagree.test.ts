import { describe, expect, test } from 'vitest';
import { disagreements } from '../../lib/rules/disagree.ts';
import type { ReadingEvidence } from '../../lib/rules/index.ts';
import type { LimitRow } from '../../lib/tolerances/index.ts';
import { reading, tableOf, testSource } from '../support/evidence.ts';

const by = (name: string | null, valueMm: number, over: Partial<ReadingEvidence> = {}) =>
  reading({
    id: `${name} ${over.clock ?? 6} ${valueMm}`,
    valueMm,
    uMm: 0.1,
    instrument: name === null ? null : { name, calibrationDue: '2030-01-01', expired: false },
    ...over,
  });
const photo = (valueMm: number) =>
  by(null, valueMm, { id: `photo ${valueMm}`, method: 'photo', instrument: null });
function found(readings: readonly ReadingEvidence[], ...methods: string[][]) {
  const table = tableOf(
    methods.map((one, i) => ({
      row: `r${i}`,
      type: 'limit',
      components: ['rim base'],
      characteristic: 'gutter depth',
      keep: { min: 10 },
      repair: null,
      methods: one,
      source: testSource,
    })),
  );
  return disagreements(
    readings,
    table.rows.map((row) => ({ table, row: row as LimitRow })),
  );
}
/** The instruments that are said to disagree. */
const named = (...given: Parameters<typeof found>) =>
  found(...given).map(({ text }) => /: (.*) disagree by/.exec(text)?.[1]);

/** What holds a part where instruments disagree is our own specification, no source. */
describe('instruments that disagree', () => {
  test('hold the part, and are named with the place', () => {
    // 1.96 × √2 × 0.1 = 0.277 apart at most.
    expect(found([by('A', 11), by('B', 11.27)], ['gauge'])).toEqual([]);
    expect(found([by('A', 11), by('B', 11.28)], ['gauge'])).toEqual([
      {
        what: 'disagreement',
        text:
          "Gutter depth, gutter groove at 6 o'clock: A and B disagree by more than their uncertainty explains, so the worst of them counts. " +
          'Withdraw what is wrong, or measure again until they agree.',
        zone: 'gutter groove',
        characteristic: 'gutter depth',
        clock: 6,
        state: null,
      },
    ]);
  });

  test('the quantity stands with its state; without a place none is named', () => {
    const gap = {
      characteristic: 'lock-ring gap',
      zone: 'ring ends',
      state: 'fitted',
      clock: null,
    } as const;
    const [missing] = found([by('A', 6, gap), by('B', 8, gap)], ['gauge']);
    expect(missing).toMatchObject({ clock: null, state: 'fitted', characteristic: 'lock-ring gap' });
    expect(missing?.text).toMatch(/^Lock-ring end gap, fitted, ring ends: A and B disagree/);
  });

  test('at each place where they do, round the clock', () => {
    const readings = [9, 3, 6].flatMap((clock) => [
      by('A', 11, { clock }),
      by('B', clock === 6 ? 11 : 12, { clock }),
    ]);
    expect(found(readings, ['gauge']).map((one) => one.clock)).toEqual([3, 9]);
  });

  test('are not those of different places, nor repeats with one', () => {
    expect(found([by('A', 11, { clock: 3 }), by('B', 12)], ['gauge'])).toEqual([]);
    expect(found([by('A', 11), by('A', 12)], ['gauge'])).toEqual([]);
    expect(found([by('A', 11)], ['gauge'])).toEqual([]);
  });

  test('sizes from photos and readings without an instrument are named as what they are', () => {
    expect(named([by('A', 11), photo(12)], ['gauge', 'photo'])).toEqual(['A and photos']);
    expect(named([by('A', 11), by(null, 12)], ['gauge'])).toEqual(['A and an instrument that is not named']);
  });

  test('an instrument that read both sides of its calibration is named once', () => {
    const old = { name: 'A', calibrationDue: '2020-01-01', expired: true };
    expect(named([by('A', 11), by('A', 12, { instrument: old }), by('B', 11)], ['gauge'])).toEqual([
      'A and B',
    ]);
  });

  test('readings that cannot support keep disagree with those that can, not among themselves', () => {
    expect(found([by(null, 11), by(null, 13)], ['gauge'])).toEqual([]);
    // Two that agree, one beside them that does not, and one that does.
    const old = (name: string, valueMm: number) =>
      by(name, valueMm, { instrument: { name, calibrationDue: '2020-01-01', expired: true } });
    expect(named([by('A', 11), by('B', 11), old('C', 12), old('D', 11)], ['gauge'])).toEqual(['A, B and C']);
  });

  test('count under each row by the readings it takes, and once however many rows say so', () => {
    const readings = [by('A', 11), photo(12)];
    expect(named(readings, ['gauge'], ['photo'])).toEqual([]);
    expect(named(readings, ['gauge'], ['gauge', 'photo'], ['photo', 'gauge'])).toEqual(['A and photos']);
    expect(named([...readings, by('B', 13)], ['gauge'], ['gauge', 'photo'])).toEqual([
      'A and B',
      'A, B and photos',
    ]);
  });
});
