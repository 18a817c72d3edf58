import { expect, test } from 'vitest';
import { bandEdgesPx, boundsPx, boxesMeet, shapeAreaPx2 } from '../../lib/marks/index.ts';
import { ANGLE, BAND, BRANCHED, PATCH } from './make.ts';

test('patches and bands have an area, lines have none', () => {
  expect(shapeAreaPx2(PATCH)).toBe(10_000);
  expect(shapeAreaPx2(BAND)).toBe(2000);
  expect(shapeAreaPx2(BRANCHED)).toBeNull();
  expect(shapeAreaPx2(ANGLE)).toBeNull();
});

test('the box of a band takes in half its width', () => {
  expect(boundsPx(BAND)).toEqual({ left: 40, top: 40, right: 160, bottom: 60 });
});

test('the box of an angle takes in all three points', () => {
  expect(boundsPx(ANGLE)).toEqual({ left: 100, top: 100, right: 160, bottom: 180 });
});

test('boxes that touch at an edge meet', () => {
  const box = boundsPx(PATCH);
  expect(boxesMeet(box, { left: 200, top: 0, right: 300, bottom: 300 })).toBe(true);
  expect(boxesMeet(box, { left: 200.1, top: 0, right: 300, bottom: 300 })).toBe(false);
});

test('the edges of a straight band lie half its width to each side', () => {
  const [left, right] = bandEdgesPx({
    form: 'band',
    centreLine: [
      [0, 0],
      [10, 0],
    ],
    widthPx: 6,
  });
  expect(left).toEqual([
    [0, 3],
    [10, 3],
  ]);
  expect(right).toEqual([
    [0, -3],
    [10, -3],
  ]);
});

test('a sharp bend throws its edge out by no more than the whole width', () => {
  const [left] = bandEdgesPx({
    form: 'band',
    centreLine: [
      [0, 0],
      [100, 0],
      [0, 1],
    ],
    widthPx: 6,
  });
  const bend = left[1];
  expect(bend && Math.hypot(bend[0] - 100, bend[1])).toBeLessThanOrEqual(6 + 1e-9);
});
