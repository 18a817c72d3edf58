import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  insideOutline,
  lineLengthPx,
  nearestOnSegment,
  outlineAreaPx2,
  outlineCrossesItself,
  type PointPx,
  segmentsMeet,
  segmentsOf,
} from '../../lib/marks/index.ts';
import { anyPoint, SEED } from './make.ts';

const SQUARE: PointPx[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];
const BOW: PointPx[] = [
  [0, 0],
  [10, 10],
  [10, 0],
  [0, 10],
];

test('the length of a line is the sum of its sides, and nothing for a single point', () => {
  expect(
    lineLengthPx([
      [0, 0],
      [3, 4],
      [3, 10],
    ]),
  ).toBe(11);
  expect(lineLengthPx([[5, 5]])).toBe(0);
  expect(lineLengthPx([])).toBe(0);
});

test('a closed line has a side more than an open one', () => {
  expect(segmentsOf(SQUARE, false)).toHaveLength(3);
  expect(segmentsOf(SQUARE, true)).toHaveLength(4);
  expect(
    segmentsOf(
      [
        [0, 0],
        [1, 1],
      ],
      true,
    ),
  ).toHaveLength(1);
});

test('the area of an outline does not depend on its direction or its first point', () => {
  expect(outlineAreaPx2(SQUARE)).toBe(100);
  expect(outlineAreaPx2(SQUARE.toReversed())).toBe(100);
  expect(outlineAreaPx2([...SQUARE.slice(2), ...SQUARE.slice(0, 2)])).toBe(100);
  expect(outlineAreaPx2(SQUARE.slice(0, 2))).toBe(0);
});

test('the area of a triangle is half of base times height wherever it lies', () => {
  fc.assert(
    fc.property(
      anyPoint,
      fc.integer({ min: 1, max: 90 }),
      fc.integer({ min: 1, max: 90 }),
      ([x, y], b, h) => {
        expect(
          outlineAreaPx2([
            [x, y],
            [x + b, y],
            [x + 7, y + h],
          ]),
        ).toBeCloseTo((b * h) / 2, 9);
      },
    ),
    { seed: SEED },
  );
});

test('the nearest place on a segment is never beyond its ends and never farther than either of them', () => {
  fc.assert(
    fc.property(anyPoint, anyPoint, anyPoint, (p, a, b) => {
      const near = nearestOnSegment(p, a, b);
      expect(near.along).toBeGreaterThanOrEqual(0);
      expect(near.along).toBeLessThanOrEqual(1);
      expect(near.distancePx).toBeLessThanOrEqual(Math.hypot(p[0] - a[0], p[1] - a[1]) + 1e-9);
      expect(near.distancePx).toBeLessThanOrEqual(Math.hypot(p[0] - b[0], p[1] - b[1]) + 1e-9);
    }),
    { seed: SEED },
  );
  expect(nearestOnSegment([3, 4], [0, 0], [0, 0]).distancePx).toBe(5);
  expect(nearestOnSegment([4, 5], [0, 0], [10, 0])).toEqual({ at: [4, 0], along: 0.4, distancePx: 5 });
});

test('a point is inside an outline or outside of it', () => {
  expect(insideOutline([5, 5], SQUARE)).toBe(true);
  expect(insideOutline([15, 5], SQUARE)).toBe(false);
  expect(insideOutline([-1, 5], SQUARE)).toBe(false);
});

test.each<[string, boolean, PointPx, PointPx, PointPx, PointPx]>([
  ['crossing', true, [0, 0], [10, 10], [0, 10], [10, 0]],
  ['touching with an end', true, [0, 0], [10, 0], [5, 0], [5, 9]],
  ['lying on each other', true, [0, 0], [10, 0], [4, 0], [20, 0]],
  ['in line but apart', false, [0, 0], [4, 0], [5, 0], [9, 0]],
  ['parallel', false, [0, 0], [10, 0], [0, 1], [10, 1]],
  ['pointing at each other without reaching', false, [0, 0], [4, 4], [10, 0], [6, 3]],
])('segments %s: meeting is %s', (_, meet, a, b, c, d) => {
  expect(segmentsMeet(a, b, c, d)).toBe(meet);
  expect(segmentsMeet(d, c, a, b)).toBe(meet);
});

test('an outline that crosses or folds back on itself is found out, a plain one is not', () => {
  expect(outlineCrossesItself(SQUARE)).toBe(false);
  expect(outlineCrossesItself(BOW)).toBe(true);
  expect(
    outlineCrossesItself([
      [0, 0],
      [10, 0],
      [5, 0],
    ]),
  ).toBe(true);
  expect(
    outlineCrossesItself([
      [0, 0],
      [5, 0],
      [10, 0],
      [5, 8],
    ]),
  ).toBe(false);
  expect(
    outlineCrossesItself([
      [0, 0],
      [10, 0],
      [5, 5],
      [5, -2],
    ]),
  ).toBe(true);
});
