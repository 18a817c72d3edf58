import { expect, test } from 'vitest';
import {
  type Guide,
  guideIsSet,
  guidePointUnder,
  moveGuidePoint,
  withGuidePoint,
} from '../../lib/marks/index.ts';

const FRAME = { widthPx: 400, heightPx: 300 };
const TWO: Guide = {
  points: [
    [10, 10],
    [90, 10],
  ],
  wanted: 2,
};
const FOUR: Guide = {
  points: [
    [10, 10],
    [90, 10],
    [90, 60],
    [10, 60],
  ],
  wanted: 4,
};

test('points are added until all wanted ones are set', () => {
  expect(withGuidePoint({ points: [], wanted: 2 }, [5, 5], FRAME)).toEqual([[5, 5]]);
  expect(withGuidePoint(TWO, [5, 5], FRAME)).toBe(TWO.points);
});

test('the nearest point within reach is taken', () => {
  expect(guidePointUnder(TWO, [84, 10], 6)).toBe(1);
  expect(guidePointUnder(TWO, [83.9, 10], 6)).toBeNull();
});

test('a moved point stays inside the photo', () => {
  expect(moveGuidePoint(TWO, 1, [1000, 10], FRAME)).toEqual([
    [10, 10],
    [399.5, 10],
  ]);
});

test('a guide is set when its points are all there, apart, and not crossed over', () => {
  expect(guideIsSet(TWO)).toBe(true);
  expect(
    guideIsSet({
      points: [
        [1, 1],
        [1, 1],
      ],
      wanted: 2,
    }),
  ).toBe(false);
  expect(guideIsSet({ points: TWO.points, wanted: 4 })).toBe(false);
  expect(guideIsSet(FOUR)).toBe(true);
  const [a, b, c, d] = FOUR.points;
  expect(a && b && c && d && guideIsSet({ points: [a, c, b, d], wanted: 4 })).toBe(false);
});
