import { describe, expect, test } from 'vitest';
import {
  basisSentences,
  byUrgency,
  looksAt,
  reachSentence,
  reachWords,
  type Wear,
  wearsOf,
} from '../../lib/history/index.ts';
import { foldRegister, kinds } from '../../lib/record/index.ts';
import { bundledTables } from '../../lib/tolerances/index.ts';
import { entry, FITTING, SITE, STAMPS, thing, WHEEL } from '../support/entries.ts';
import { dayAt, inspectionsOf, type Read } from './wearOf.ts';

const FLANGES = Array.from({ length: 6 }, (_, i) => thing(40 + i));
const [FIRST = ''] = FLANGES;
const tables = bundledTables.filter(({ table }) => table === 'demonstration-quillmoor');

function registerOf(fitted: readonly string[]) {
  const maker = { maker: 'Quillmoor Rimworks', series: 'QX' };
  return foldRegister([
    entry(kinds.inspectionPolicySet, SITE, { everyMonths: 12, everyHours: null }),
    entry(kinds.wheelDescribed, WHEEL, {
      tag: '4K7-P3F',
      designation: '25-22.00/3.0',
      construction: 'five-piece',
      machine: 'HT-01',
      position: 'front left',
      dual: false,
      ...maker,
    }),
    ...FLANGES.flatMap((flange, i) => [
      entry(kinds.componentDescribed, flange, {
        componentKind: 'side flange',
        stamp: `${i}`,
        ...STAMPS,
        ...maker,
      }),
      ...[0, 500].map((day) =>
        entry(kinds.dutyHoursNoted, flange, {
          hours: 10 * day,
          giveOrTakeHours: 5,
          basis: 'estimate',
          on: dayAt(day),
        }),
      ),
    ]),
    ...fitted.map((flange) =>
      entry(kinds.componentFitted, flange, { ...FITTING, wheel: WHEEL, slot: 'gutter side flange' }),
    ),
  ]);
}

const wornFrom = (mm: number): Read[] => [
  { day: 0, mm },
  { day: 500, mm: mm + 0.5 },
];
const others = FLANGES.slice(1).flatMap((flange) => inspectionsOf(flange, wornFrom(0.2)));

function wearOfFirst(reads: readonly Read[], fitted: readonly string[] = [FIRST]): Wear {
  const register = registerOf(fitted);
  const wears = wearsOf([...inspectionsOf(FIRST, reads), ...others], { register, tables, on: dayAt(500) });
  const found = wears.find(({ series }) => series.component === FIRST);
  if (found === undefined) throw new Error('no trend');
  return found;
}

describe('the wear of a component', () => {
  test('runs toward the keep limit of the tables in force, on a day by its hours', () => {
    const wear = wearOfFirst(wornFrom(0.2));
    expect(wear.ends).toMatchObject([{ worse: 1, value: 2, rule: { source: { kind: 'demonstration' } } }]);
    // 0.5 mm in 5 000 h: the line needs 13 000 h more, 1 300 days; the band is there before.
    expect(wear).toMatchObject({
      perDay: 10,
      trend: { basis: 'own and fleet', reach: { state: 'reaches' } },
    });
    expect(wear.by ?? '').toMatch(/^202[678]-/);
    expect((wear.by ?? '') < dayAt(1800)).toBe(true);
    expect(reachSentence(wear, 'metric')).toMatch(
      /^The worse edge of the 95 % band reaches the keep limit of 2\.00 mm at \d+ h on duty, about \d{4}-\d\d-\d\d at 10\.0 h a day; the line itself at 18000 h on duty\.$/,
    );
    expect(reachWords(wear, 'imperial')).toContain('keep limit 0.0787 in (demonstration)');
    expect(basisSentences(wear, 'metric')).toEqual([
      expect.stringMatching(/from its 2 readings \(alone 0\.100 mm per 1000 h\), the rest from 5 others/),
    ]);
  });

  test('read once takes the slope of the others; a value beyond the limit is said', () => {
    const once = wearOfFirst([{ day: 500, mm: 0.7 }]);
    expect(once.trend.basis).toBe('fleet');
    expect(basisSentences(once, 'metric')[0]).toMatch(/read at one time only.*5 others of its kind alone/);
    const beyond = wearOfFirst([{ day: 500, mm: 2.2 }]);
    expect(reachSentence(beyond, 'metric')).toBe('The last reading is beyond the keep limit of 2.00 mm.');
    expect([once, beyond].sort(byUrgency)).toEqual([beyond, once]);
  });

  test('that went back is told in doubt, with the place that was not read again', () => {
    const back = wearOfFirst([
      { day: 0, mm: 1 },
      { day: 500, mm: 0.4 },
    ]);
    const [, doubt, ...more] = basisSentences(back, 'metric');
    expect(doubt).toMatch(/^In doubt: a reading is better than an earlier one/);
    expect(more).toEqual([]);
    const elsewhere = {
      ...back,
      series: {
        ...back.series,
        points: back.series.points.map((point, i) => (i === 0 ? { ...point, clock: 6 } : point)),
      },
    };
    expect(basisSentences(elsewhere, 'metric')[2]).toBe(
      `The place that was worst before (at 6 o’clock) was not read again on ${dayAt(500)}.`,
    );
  });

  test('of a part that was never fitted has no limit, and none of a wheel is left out', () => {
    const loose = wearOfFirst(wornFrom(0.2), []);
    expect(loose).toMatchObject({ place: null, ends: [] });
    expect(reachSentence(loose, 'metric')).toBe(
      'No limit is on file, so nothing says when it would be worn out.',
    );
    const register = registerOf([FIRST]);
    const ofWheel = wearsOf(others, { register, tables, on: dayAt(500) }, WHEEL);
    expect(ofWheel).toEqual([]);
  });

  test('asks for a look by the site’s interval where that is sooner', () => {
    const wear = wearOfFirst(wornFrom(0.2));
    const context = { register: registerOf([FIRST]), tables, on: dayAt(500) };
    const looks = looksAt([wear], context, (one) => reachSentence(one, 'metric'));
    expect(looks.map(({ what }) => what)).toEqual(['policy', 'trend']);
  });
});
