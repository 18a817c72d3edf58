import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  binomialShare,
  type PlacedVisit,
  poissonRate,
  ratesBy,
  visitsWithin,
  zoneCounts,
} from '../../lib/history/index.ts';

const intervalOf = (result: ReturnType<typeof poissonRate>) => {
  if (!result.ok) throw new Error('refused');
  return result.value.interval;
};

describe('exact intervals', () => {
  test('Garwood’s for a Poisson count', () => {
    // Source: the usual table of 95 % limits (Garwood 1936; from memory).
    for (const [count, low, high] of [
      [0, 0, 3.689],
      [1, 0.0253, 5.572],
      [5, 1.623, 11.668],
      [10, 4.795, 18.39],
      [100, 81.364, 121.627],
    ] as const) {
      expect(intervalOf(poissonRate(count, 1))[0]).toBeCloseTo(low, 3);
      expect(intervalOf(poissonRate(count, 1))[1]).toBeCloseTo(high, 2);
    }
    expect(intervalOf(poissonRate(10, 5))[0]).toBeCloseTo(4.795 / 5, 3);
  });

  test('Clopper and Pearson’s for a share', () => {
    // Source: 0 and n of n in closed form, 1 − (α/2)^(1/n); 1 and 5 of 10 from memory.
    expect(intervalOf(binomialShare(0, 10))).toEqual([0, expect.closeTo(1 - 0.025 ** 0.1, 10)]);
    expect(intervalOf(binomialShare(10, 10))).toEqual([expect.closeTo(0.025 ** 0.1, 10), 1]);
    expect(intervalOf(binomialShare(1, 10))).toEqual([expect.closeTo(0.0025, 4), expect.closeTo(0.445, 3)]);
    expect(intervalOf(binomialShare(5, 10))).toEqual([expect.closeTo(0.1871, 4), expect.closeTo(0.8129, 4)]);
  });

  test('counts that are none are refused', () => {
    expect(poissonRate(-1, 3)).toMatchObject({ ok: false, error: { field: 'count' } });
    expect(poissonRate(1, 0)).toMatchObject({ ok: false, error: { field: 'exposure' } });
    expect(binomialShare(1.5, 3)).toMatchObject({ ok: false, error: { field: 'count' } });
    expect(binomialShare(4, 3)).toMatchObject({ ok: false, error: { field: 'of' } });
    expect(binomialShare(0, 0)).toMatchObject({ ok: false, error: { field: 'of' } });
  });

  test('the more was looked at, the narrower', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 1, max: 8 }), (count, times) => {
        const width = (k: number) => {
          const [low, high] = intervalOf(binomialShare(count * k, 50 * k));
          return high - low;
        };
        expect(width(times + 1)).toBeLessThan(width(times));
      }),
      { seed: 5, numRuns: 100 },
    );
  });
});

const visit = (over: Partial<PlacedVisit>): PlacedVisit => ({
  inspection: 'one',
  wheel: 'w',
  construction: 'three-piece',
  at: '2026-03-01T23:30:00.000Z',
  machine: 'HT-01',
  position: 'front left',
  parts: [
    { slot: 'rim base', component: 'a', maker: 'Ambra', zones: ['gutter groove', 'gutter weld'] },
    { slot: 'lock ring', component: 'b', maker: '', zones: [] },
  ],
  finds: [
    { slot: 'rim base', zone: 'gutter weld', clock: 12.5, what: 'crack' },
    { slot: 'rim base', zone: 'gutter weld', clock: 12, what: 'crack' },
    { slot: 'rim base', zone: 'gutter groove', clock: null, what: 'corrosion' },
  ],
  ...over,
});
const ALL = { construction: 'three-piece', kind: null, from: null, to: null } as const;

describe('where things happen', () => {
  test('by zone and clock hour, with how often the zone was seen', () => {
    const [weld, groove, lip] = zoneCounts(visitsWithin([visit({})], ALL), [
      { slot: 'rim base', zone: 'gutter weld' },
      { slot: 'rim base', zone: 'gutter groove' },
      { slot: 'rim base', zone: 'gutter lip' },
    ]);
    expect(weld).toMatchObject({ count: 2, seen: 1, noClock: 0, byHour: [...Array(11).fill(0), 2] });
    expect(groove).toMatchObject({ count: 1, seen: 1, noClock: 1, byHour: Array(12).fill(0) });
    expect(lip).toMatchObject({ count: 0, seen: 0 });
  });

  test('a find in a zone that is not among those asked for is not lost', () => {
    const counts = zoneCounts([visit({})], [{ slot: 'rim base', zone: 'gutter weld' }]);
    expect(counts.map(({ zone, count }) => [zone, count])).toEqual([
      ['gutter weld', 2],
      ['gutter groove', 1],
    ]);
  });

  test('kind, period with both its days, and construction narrow it', () => {
    const count = (filter: Partial<Parameters<typeof visitsWithin>[1]>) =>
      visitsWithin([visit({})], { ...ALL, ...filter }).flatMap(({ finds }) => finds).length;
    expect(count({ kind: 'crack' })).toBe(2);
    expect(count({ from: '2026-03-01', to: '2026-03-01' })).toBe(3);
    expect(count({ from: '2026-03-02' })).toBe(0);
    expect(count({ to: '2026-02-28' })).toBe(0);
    expect(count({ construction: 'five-piece' })).toBe(0);
  });

  test('rates count parts that were looked at, with and without finds, the worst group first', () => {
    const visits = [
      visit({}),
      visit({ inspection: 'two', machine: 'HT-02', finds: [] }),
      visit({ inspection: 'three' }),
    ];
    const [first, second] = ratesBy(visits, ({ machine }) => machine);
    expect(first).toMatchObject({ group: 'HT-01', inspected: 2, finds: 6, withFinds: 2, few: true });
    expect(first?.rate.value).toBe(3);
    expect(first?.share.value).toBe(1);
    expect(second).toMatchObject({ group: 'HT-02', inspected: 1, finds: 0, withFinds: 0 });
    expect(ratesBy(visits, (_, part) => part.maker).map(({ group }) => group)).toEqual(['Ambra']);
  });
});
