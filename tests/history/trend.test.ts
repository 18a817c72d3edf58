import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  bandToward,
  edgeAt,
  expectedOf,
  fleetOf,
  type Prior,
  seriesOf,
  soonest,
  type TrendLine,
  trendOf,
  whereBandReaches,
} from '../../lib/history/index.ts';
import { dayAt, inspectionsOf, limitAt, notesOf, type Read } from './wearOf.ts';

const noted = (days = 1000) =>
  new Map([['part', { hoursNoted: notesOf(days), mergedInto: null, repairs: [] }]]);
const FLEET: Prior = { slope: 1e-3, variance: 1e-8, count: 8 };

function trend(reads: readonly Read[], limit: number, fleet: Prior | null = null) {
  const [series] = seriesOf(inspectionsOf('part', reads), noted());
  if (series === undefined) throw new Error('no series');
  return { series, ...trendOf(series, [limitAt(limit)], fleet) };
}

describe('a trend', () => {
  test('two readings by the part alone: the band reaches the limit before the line does', () => {
    const found = trend(
      [
        { day: 0, mm: 1 },
        { day: 500, mm: 2 },
      ],
      4,
    );
    expect(found).toMatchObject({ basis: 'own', share: 1, doubt: null, reach: { state: 'reaches' } });
    // 1 mm in 5 000 h: the line is there 10 000 h after the last reading, at 16 000 h.
    const { reach } = found;
    if (reach.state !== 'reaches') throw new Error('does not reach');
    expect(reach.lineX).toBeCloseTo(16_000, 0);
    expect(reach.x).toBeGreaterThan(13_000);
    expect(reach.x).toBeLessThan(16_000);
  });

  test('a single reading takes the fleet’s slope alone; without a fleet nothing can be said', () => {
    expect(trend([{ day: 0, mm: 1 }], 4, FLEET)).toMatchObject({
      basis: 'fleet',
      share: 0,
      own: null,
      reach: { state: 'reaches' },
    });
    expect(trend([{ day: 0, mm: 1 }], 4)).toMatchObject({
      basis: 'none',
      line: null,
      reach: { state: 'cannot say', why: 'one reading and no fleet' },
    });
  });

  test('what cannot be said is said: no limit, no wear, out of reach; a limit that is reached already', () => {
    const rising = [
      { day: 0, mm: 1 },
      { day: 500, mm: 2 },
    ];
    const [series] = seriesOf(inspectionsOf('part', rising), noted());
    if (series === undefined) throw new Error('no series');
    expect(trendOf(series, [], null).reach).toMatchObject({ state: 'cannot say', why: 'no limit' });
    const flat = trend(
      [
        { day: 0, mm: 1 },
        { day: 500, mm: 1.01 },
      ],
      4,
    );
    expect(flat.reach).toMatchObject({ state: 'cannot say', why: 'no wear to be told' });
    expect(soonest(flat.reach)).toBeGreaterThan(6000);
    expect(trend(rising, 400).reach).toMatchObject({ state: 'cannot say', why: 'out of reach' });
    expect(trend(rising, 1.9).reach).toMatchObject({ state: 'reached', by: 'value' });
    expect(trend(rising, 2.01).reach).toMatchObject({ state: 'reached', by: 'band' });
  });

  test('a depth falls toward its limit as a step grows toward its own', () => {
    const grown = trend(
      [
        { day: 0, mm: 1 },
        { day: 250, mm: 1.4 },
        { day: 500, mm: 2 },
      ],
      4,
    );
    const reads = [
      { day: 0, mm: 9 },
      { day: 250, mm: 8.6 },
      { day: 500, mm: 8 },
    ];
    const [series] = seriesOf(inspectionsOf('part', reads, 'gutter depth'), noted());
    if (series === undefined) throw new Error('no series');
    const fallen = trendOf(series, [limitAt(6, -1)], null);
    expect(soonest(fallen.reach)).toBeCloseTo(soonest(grown.reach), 6);
    expect(fallen.line?.slope).toBeCloseTo(-(grown.line?.slope ?? 0), 12);
  });

  test('without hours noted it is held against dates', () => {
    const [series] = seriesOf(inspectionsOf('part', [{ day: 0, mm: 1 }]), new Map());
    expect(series).toMatchObject({ clock: 'days', points: [{ xU: 0 }] });
    const [known] = seriesOf(inspectionsOf('part', [{ day: 100, mm: 1 }]), noted());
    expect(known?.clock).toBe('hours');
    expect(known?.points[0]?.x).toBeCloseTo(2000, 6);
  });
});

describe('a part that changed under its record', () => {
  const reads = [
    { day: 0, mm: 1 },
    { day: 300, mm: 4 },
    { day: 500, mm: 1 },
    { day: 700, mm: 1.5 },
  ];
  const repairOn = (day: number, zone: 'flange contact face' | 'flange lip' = 'flange contact face') => ({
    zones: [zone],
    what: 'built up',
    procedure: '',
    by: 'a shop',
    on: dayAt(day),
    entry: 'r',
    at: `${dayAt(day)}T08:00:00.000Z`,
  });
  const seriesWith = (repairs: ReturnType<typeof repairOn>[]) =>
    seriesOf(
      inspectionsOf('part', reads),
      new Map([['part', { hoursNoted: notesOf(1000), mergedInto: null, repairs }]]),
    )[0];

  test('is counted since the repair of the zone, and nothing then went back', () => {
    const since = seriesWith([repairOn(400)]);
    expect(since?.points.map(({ valueMm }) => valueMm)).toEqual([1, 1.5]);
    expect(since?.points.some(({ healed }) => healed)).toBe(false);
    expect(since?.repaired).toBe(dayAt(400));
  });

  test('is read as before where another zone was repaired: the way back stays in doubt', () => {
    const all = seriesWith([repairOn(400, 'flange lip')]);
    expect(all?.points).toHaveLength(4);
    expect(all?.points.some(({ healed }) => healed)).toBe(true);
  });

  test('keeps what was read before a repair after which nobody read it', () => {
    const before = seriesWith([repairOn(800)]);
    expect(before?.points).toHaveLength(4);
    expect(before?.repaired).toBe(dayAt(800));
  });

  test('with two records is one series', () => {
    const own = { hoursNoted: notesOf(1000), repairs: [] };
    const both = [
      ...inspectionsOf('part', [{ day: 0, mm: 1 }]),
      ...inspectionsOf('twin', [{ day: 500, mm: 2 }]),
    ];
    const records = (mergedInto: string | null) =>
      new Map([
        ['part', { ...own, mergedInto: null }],
        ['twin', { ...own, mergedInto }],
      ]);
    expect(seriesOf(both, records(null))).toHaveLength(2);
    const joined = seriesOf(both, records('part'));
    expect(joined.map(({ component, points }) => [component, points.length])).toEqual([['part', 2]]);
  });
});

describe('a reading that goes back', () => {
  const reads = [
    { day: 0, mm: 1 },
    { day: 250, mm: 2 },
    { day: 500, mm: 1.2 },
    { day: 750, mm: 1.6 },
  ];

  test('is marked, and what comes after it that is still better than before; a small one is scatter', () => {
    expect(trend(reads, 4).series.points.map(({ healed }) => healed)).toEqual([false, false, true, true]);
    const scatter = trend(
      [
        { day: 0, mm: 1 },
        { day: 250, mm: 0.9 },
      ],
      4,
    );
    expect(scatter.series.points.some(({ healed }) => healed)).toBe(false);
  });

  test('is never averaged with the others: the way of reading that reaches the limit sooner counts', () => {
    const found = trend(reads, 4);
    expect(found.doubt).toBe('without what went back');
    expect(found.counted).toEqual(['part 0', 'part 250']);
    const mild = trend(
      [
        { day: 0, mm: 3.5 },
        { day: 250, mm: 3.52 },
        { day: 500, mm: 1 },
        { day: 600, mm: 2 },
      ],
      6,
    );
    expect(mild.doubt).toBe('only since it went back');
    expect(mild.counted).toEqual(['part 500', 'part 600']);
  });

  test('its part says nothing to the fleet', () => {
    const series = seriesOf(inspectionsOf('part', reads), noted());
    expect([...fleetOf(series, () => 'side flange').values()].flat()).toEqual([]);
  });
});

describe('a fleet', () => {
  const parts = Array.from({ length: 6 }, (_, i) => `part ${i}`);
  const all = seriesOf(
    parts.flatMap((part, i) =>
      inspectionsOf(part, [
        { day: 0, mm: 1 },
        { day: 500, mm: 2 + 0.1 * i },
      ]),
    ),
    new Map(parts.map((part) => [part, { hoursNoted: notesOf(1000), mergedInto: null, repairs: [] }])),
  );
  const fleet = fleetOf(all, () => 'side flange');

  test('what is expected of a part comes from the others of its kind', () => {
    const [first] = all;
    if (first === undefined) throw new Error('no series');
    const expected = expectedOf(first, 'side flange', fleet);
    expect(expected?.count).toBe(5);
    // Others: 1.1 to 1.5 mm in 5 000 h.
    expect(expected?.slope).toBeCloseTo(1.3 / 5000, 5);
    expect(expectedOf(first, 'lock ring', fleet)).toBeNull();
    const drawn = trendOf(first, [limitAt(4)], expected);
    expect(drawn.line?.slope).toBeGreaterThan(drawn.own?.slope ?? 0);
    expect(drawn.line?.slope).toBeLessThan(expected?.slope ?? 0);
  });
});

const reading = fc.record({
  day: fc.integer({ min: 0, max: 990 }),
  mm: fc.double({ min: 0, max: 5, noNaN: true }),
  u: fc.double({ min: 0.02, max: 0.5, noNaN: true }),
});
const readings = fc.uniqueArray(reading, { minLength: 1, maxLength: 9, selector: ({ day }) => day });
const seeded = { seed: 20_260_801, numRuns: 300 } as const;

describe('of every trend', () => {
  test('the order in which inspections are given changes nothing', () => {
    fc.assert(
      fc.property(readings, fc.infiniteStream(fc.nat()), (reads, keys) => {
        const given = inspectionsOf('part', reads);
        const ranked = given.map((one) => ({ one, rank: keys.next().value ?? 0 }));
        const shuffled = ranked.sort((a, b) => a.rank - b.rank).map(({ one }) => one);
        expect(seriesOf([...shuffled, ...given], noted())).toEqual(seriesOf(given, noted()));
      }),
      seeded,
    );
  });

  test('a stricter limit is never reached later', () => {
    fc.assert(
      fc.property(
        readings,
        fc.double({ min: 0.1, max: 8, noNaN: true }),
        fc.double({ min: 0, max: 4, noNaN: true }),
        (reads, limit, stricter) => {
          const far = trend(reads, limit, FLEET);
          const near = trend(reads, limit - stricter, FLEET);
          expect(soonest(near.reach)).toBeLessThanOrEqual(soonest(far.reach));
        },
      ),
      seeded,
    );
  });

  test('one more reading on the line never widens the band, and a fleet never widens it', () => {
    fc.assert(
      fc.property(readings, reading, (reads, more) => {
        const rate = 2e-3;
        const onLine = (all: readonly Read[]) => all.map((one) => ({ ...one, mm: 1 + rate * one.day }));
        const days = new Set(reads.map(({ day }) => day));
        fc.pre(reads.length > 1 && !days.has(more.day));
        const [few, many] = [trend(onLine(reads), 50), trend(onLine([...reads, more]), 50)];
        const variance = (line: TrendLine | null) => line?.slopeVariance ?? Number.POSITIVE_INFINITY;
        expect(variance(many.line)).toBeLessThanOrEqual(variance(few.line) * (1 + 1e-9));
        expect(many.line?.levelVariance).toBeLessThan(few.line?.levelVariance ?? 0);
        expect(variance(trend(onLine(reads), 50, FLEET).line)).toBeLessThanOrEqual(variance(few.line));
      }),
      seeded,
    );
  });

  test('where the band reaches its limit by halving it does by the quadratic’s root, and not before', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-5, max: 1e-2, noNaN: true }),
        fc.double({ min: 0, max: 1e-3, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 3, max: 20, noNaN: true }),
        (slope, slopeU, levelU, limit) => {
          const line = {
            centre: 500,
            level: 0,
            levelVariance: levelU ** 2,
            slope,
            slopeVariance: slopeU ** 2,
          };
          const band = bandToward({ worse: 1, u: 0 }, line, 0.1);
          const found = whereBandReaches(band, limit, 500, 1e9);
          if (found === null) throw new Error('not reached');
          const z2 = band.z ** 2;
          const [a, b, c] = [
            slope ** 2 - z2 * slopeU ** 2,
            -2 * slope * limit,
            limit ** 2 - z2 * (levelU ** 2 + 0.01),
          ];
          // Of the two roots the one at which the line is still short of the limit; in a form that loses no digits.
          const root = c / (-b / 2 + Math.sqrt(Math.max(0, (b / 2) ** 2 - a * c)));
          expect((found - 500) / root).toBeCloseTo(1, 6);
          expect(edgeAt(band, found - (found - 500) * 1e-6)).toBeLessThan(limit);
        },
      ),
      seeded,
    );
  });
});
