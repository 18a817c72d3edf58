import { describe, expect, test } from 'vitest';
import { bandsOf, pileUp } from '../../app/_drawings/bands.ts';
import { simpleClass } from '../../lib/rules/index.ts';
import { boundsAsSize, type LimitRow } from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const row = (over: object): LimitRow => {
  const [first] = tableOf([
    {
      row: 'limit',
      type: 'limit',
      characteristic: 'gutter depth',
      methods: ['gauge'],
      source: testSource,
      repair: null,
      ...over,
    },
  ]).rows;
  if (first?.type !== 'limit') throw new Error('no limit');
  return first;
};
const classesOf = (limit: LimitRow, readings: readonly number[] = []) =>
  bandsOf(limit, readings).bands.map((band) => band.class);

describe('bands of a limit', () => {
  test('run from scrap over repair to keep for a depth, and the other way for wear', () => {
    expect(classesOf(row({ keep: { min: 10.5 }, repair: { min: 9 } }))).toEqual(['scrap', 'repair', 'keep']);
    expect(classesOf(row({ keep: { max: 2 }, repair: { max: 3.5 } }))).toEqual(['keep', 'repair', 'scrap']);
  });

  test('lie about keep for a limit with two ends, with none for repair where there is none', () => {
    expect(classesOf(row({ keep: { min: 4, max: 16 } }))).toEqual(['scrap', 'keep', 'scrap']);
    expect(classesOf(row({ keep: { min: 4, max: 16 }, repair: { min: 2, max: 16 } }))).toEqual([
      'scrap',
      'repair',
      'keep',
      'scrap',
    ]);
  });

  test('are drawn as sizes where the row counts from the size of the new part', () => {
    const { ends, bands } = bandsOf(
      row({ boundsOf: 'percent lost', nominal: { value: 20 }, keep: { max: 10 }, repair: { max: 25 } }),
      [],
    );
    expect(ends).toEqual([15, 18]);
    expect(bands.map((band) => band.class)).toEqual(['scrap', 'repair', 'keep']);
  });

  test('join without gaps over a scale that takes in every end and every reading with room', () => {
    const { from, to, bands } = bandsOf(row({ keep: { min: 10.5 }, repair: { min: 9 } }), [3, 14]);
    expect(from).toBeLessThan(3);
    expect(to).toBeGreaterThan(14);
    expect(bands[0]?.from).toBe(from);
    expect(bands.at(-1)?.to).toBe(to);
    for (let i = 1; i < bands.length; i += 1) expect(bands[i]?.from).toBe(bands[i - 1]?.to);
  });

  test('say of every value between the ends what the engine says of that reading alone', () => {
    const limit = row({ keep: { min: 4, max: 16 }, repair: { min: 2, max: 20 } });
    for (const band of bandsOf(limit, [0, 30]).bands) {
      const middle = (band.from + band.to) / 2;
      const repair = limit.repair === null ? null : boundsAsSize(limit, limit.repair);
      expect(band.class).toBe(simpleClass(middle, boundsAsSize(limit, limit.keep), repair));
    }
  });

  test('of a single end have room on both sides', () => {
    expect(bandsOf(row({ keep: { min: 0 } }), [])).toMatchObject({ from: -1, to: 1 });
    expect(bandsOf(row({ keep: { min: 10 } }), [])).toMatchObject({ from: 8, to: 12 });
  });
});

describe('readings as dots', () => {
  test('pile up where they would lie on each other, none is lost', () => {
    const place = (value: number) => value * 10;
    expect(pileUp([1, 5, 1.01, 1.02], place, 7, 10)).toEqual({
      perDot: 1,
      piles: [
        { x: 7, dots: 3 },
        { x: 49, dots: 1 },
      ],
    });
    expect(pileUp([], place, 7, 10)).toEqual({ perDot: 1, piles: [] });
  });

  test('stand for several readings each where a pile would grow too high, a lone one still has its dot', () => {
    const many = [...Array.from({ length: 25 }, () => 1), 5];
    expect(pileUp(many, (value) => value * 10, 7, 10)).toEqual({
      perDot: 3,
      piles: [
        { x: 7, dots: 9 },
        { x: 49, dots: 1 },
      ],
    });
  });
});
