import { expect, test } from 'vitest';
import { distanceToShapePx, handlesOf, hitShape, markUnder, type Shape } from '../../lib/marks/index.ts';
import { ANGLE, BAND, BRANCHED, PATCH } from './make.ts';

test('the distance to a band counts from its edge and is nothing inside', () => {
  expect(distanceToShapePx(BAND, [100, 55])).toBe(0);
  expect(distanceToShapePx(BAND, [100, 75])).toBe(15);
  expect(distanceToShapePx({ form: 'spot', at: [3, 4] }, [0, 0])).toBe(5);
});

test('a touch takes the nearest point, else the middle of a side, else the line, else the inside', () => {
  expect(hitShape(PATCH, [103, 98], 10)).toMatchObject({ kind: 'point', ref: { line: 0, index: 0 } });
  expect(hitShape(PATCH, [152, 103], 10)).toMatchObject({ kind: 'insert', ref: { line: 0, index: 0 } });
  expect(hitShape(PATCH, [100, 152], 10)).toMatchObject({ kind: 'insert', ref: { line: 0, index: 3 } });
  expect(hitShape(PATCH, [125, 104], 10)).toEqual({ kind: 'line' });
  expect(hitShape(PATCH, [150, 150], 10)).toEqual({ kind: 'inside' });
  expect(hitShape(PATCH, [300, 150], 10)).toBeNull();
});

test('an angle is taken hold of by its three points and its two lines, and has no inside', () => {
  expect(handlesOf(ANGLE, 5).map(({ kind, at }) => [kind, at])).toEqual([
    ['point', [160, 100]],
    ['point', [100, 100]],
    ['point', [100, 180]],
  ]);
  expect(hitShape(ANGLE, [102, 97], 10)).toMatchObject({ kind: 'point', ref: { line: 0, index: 1 } });
  expect(hitShape(ANGLE, [130, 105], 10)).toEqual({ kind: 'line' });
  expect(hitShape(ANGLE, [120, 125], 10)).toBeNull();
  expect(markUnder([{ mark: 'm', shape: ANGLE }], [98, 150], 10)).toBe('m');
});

test('the reach of a touch ends where it says', () => {
  const spot: Shape = { form: 'spot', at: [50, 50] };
  expect(hitShape(spot, [59.9, 50], 10)).toMatchObject({ kind: 'point' });
  expect(hitShape(spot, [60, 50], 10)).toMatchObject({ kind: 'point' });
  expect(hitShape(spot, [60.1, 50], 10)).toBeNull();
});

test('short sides offer no handle that would cover their ends', () => {
  expect(handlesOf(PATCH, 33).filter(({ kind }) => kind === 'insert')).toHaveLength(4);
  expect(handlesOf(PATCH, 34).filter(({ kind }) => kind === 'insert')).toHaveLength(0);
});

test('the width handle of a band lies one reach outside its edge', () => {
  const width = handlesOf(BAND, 8).find(({ kind }) => kind === 'width');
  expect(width?.at).toEqual([100, 68]);
});

test('a tap means the nearest line, else the smallest outline around it, else nothing', () => {
  const marks = [
    {
      mark: 'large',
      shape: {
        ...PATCH,
        outline: [
          [0, 0],
          [300, 0],
          [300, 300],
          [0, 300],
        ],
      } as Shape,
    },
    { mark: 'small', shape: PATCH },
    { mark: 'line', shape: BRANCHED },
  ];
  expect(markUnder(marks, [150, 150], 10)).toBe('small');
  expect(markUnder(marks, [50, 150], 10)).toBe('large');
  expect(markUnder(marks, [21, 30], 10)).toBe('line');
  expect(markUnder(marks, [350, 150], 10)).toBeNull();
});
