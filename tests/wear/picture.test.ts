import { describe, expect, test } from 'vitest';
import { lengthScale } from '../../app/_plots/scale.ts';
import { pictureOf } from '../../app/_screens/wear/picture.ts';
import { type LimitEnd, seriesOf, trendOf, type Wear } from '../../lib/history/index.ts';
import { inspectionsOf, limitAt, notesOf, type Read } from '../history/wearOf.ts';

function wearOf(reads: readonly Read[], ends: readonly LimitEnd[], noted = true): Wear {
  const notes = new Map(
    noted ? [['part', { hoursNoted: notesOf(1000), mergedInto: null, repairs: [] }]] : [],
  );
  const [series] = seriesOf(inspectionsOf('part', reads), notes);
  if (series === undefined) throw new Error('no series');
  const trend = trendOf(series, ends, null);
  return { series, component: null, place: null, ends, trend, perDay: null, by: null };
}

const RISING = [
  { day: 0, mm: 1 },
  { day: 500, mm: 2 },
];

describe('the picture of a trend', () => {
  test('has every reading with its bar and its inspection, the limit with its label, and where it is reached', () => {
    const picture = pictureOf(wearOf(RISING, [limitAt(4)]), lengthScale('metric'));
    expect(picture.dots).toMatchObject([
      { x: 1000, y: 1, low: 0.9, high: 1.1, href: '/wheel?id=wheel&inspection=part 0', sign: 'counted' },
      { x: 6000, y: 2 },
    ]);
    expect(picture.limits).toEqual([{ y: 4, words: 'keep to 4.00 mm, demonstration', keep: true }]);
    expect(picture.crossing).toMatchObject({ y: 4, low: true });
    const last = picture.band.at(-1);
    expect(Number(last?.x)).toBeGreaterThan(Number(picture.crossing?.x));
    expect(last?.high ?? 0).toBeGreaterThan(4);
  });

  test('is in inches where these are shown', () => {
    const picture = pictureOf(wearOf(RISING, [limitAt(25.4)]), lengthScale('imperial'));
    expect(picture.dots[0]?.y).toBeCloseTo(1 / 25.4, 12);
    expect(picture.limits[0]).toMatchObject({ y: 1, words: 'keep to 1.0000 in, demonstration' });
    expect(picture.yLabel).toBe('Value, in');
  });

  test('leaves a limit that is far away to the words', () => {
    expect(pictureOf(wearOf(RISING, [limitAt(30)]), lengthScale('metric')).crossing).toBeNull();
  });

  test('shows what went back with another sign, and a line only where it rests', () => {
    const back = [...RISING, { day: 800, mm: 1.2 }, { day: 900, mm: 1.9 }];
    const picture = pictureOf(wearOf(back, [limitAt(6)]), lengthScale('metric'));
    expect(picture.dots.map(({ sign }) => sign)).toEqual(['left out', 'left out', 'counted', 'counted']);
    expect(picture.band[0]?.x).toBeCloseTo(9000, 6);
  });

  test('is drawn against days without hours', () => {
    const picture = pictureOf(wearOf(RISING, [limitAt(4)], false), lengthScale('metric'));
    expect(picture.dots[0]?.x).toEqual(new Date('2024-01-01T00:00:00.000Z'));
    expect(picture.xLabel).toBe('Day (hours on duty not known)');
  });
});
