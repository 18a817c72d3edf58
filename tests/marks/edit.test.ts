import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  frameBox,
  insertPoint,
  keptPoint,
  linesOf,
  movePoint,
  moveShape,
  type PointPx,
  pointAt,
  pointRefs,
  removePoint,
  Shape,
  shapeProblem,
  withWidth,
} from '../../lib/marks/index.ts';
import { ANGLE, anyPoint, anyShape, BAND, BRANCHED, PATCH, SEED } from './make.ts';

const FRAME = { widthPx: 400, heightPx: 300 };

test('a point is kept inside the photo and to a hundredth of a pixel', () => {
  expect(keptPoint([-7, 500], FRAME)).toEqual([-0.5, 299.5]);
  expect(keptPoint([12.3456, 7.001], FRAME)).toEqual([12.35, 7]);
});

test('moving the point where a branch starts takes the branch along', () => {
  const moved = movePoint(BRANCHED, { line: 0, index: 1 }, [22, 12], FRAME);
  expect(moved).toEqual({
    form: 'trace',
    branches: [
      [
        [10, 10],
        [22, 12],
        [30, 10],
      ],
      [
        [22, 12],
        [20, 40],
      ],
    ],
  });
});

test('moving a whole shape never changes its form and never leaves the photo', () => {
  fc.assert(
    fc.property(anyShape, anyPoint, fc.boolean(), (shape, by, back) => {
      const step: PointPx = back ? [-by[0], -by[1]] : by;
      const moved = moveShape(shape, step, FRAME);
      const box = frameBox(FRAME);
      const first = pointAt(shape, { line: 0, index: 0 });
      const firstMoved = pointAt(moved, { line: 0, index: 0 });
      for (const ref of pointRefs(shape)) {
        const [x, y] = pointAt(shape, ref);
        const [mx, my] = pointAt(moved, ref);
        expect(mx - x).toBeCloseTo(firstMoved[0] - first[0], 6);
        expect(my - y).toBeCloseTo(firstMoved[1] - first[1], 6);
        expect(mx).toBeGreaterThanOrEqual(box.left);
        expect(mx).toBeLessThanOrEqual(box.right);
        expect(my).toBeGreaterThanOrEqual(box.top);
        expect(my).toBeLessThanOrEqual(box.bottom);
      }
    }),
    { seed: SEED },
  );
});

test('each point of an angle moves alone, its vertex in the middle, and none can be put between', () => {
  const [first, vertex, second] = pointRefs(ANGLE);
  if (!first || !vertex || !second) throw new Error('three points');
  expect(movePoint(ANGLE, vertex, [90, 95], FRAME)).toEqual({ ...ANGLE, vertex: [90, 95] });
  expect(movePoint(ANGLE, first, [170, 90], FRAME)).toEqual({ ...ANGLE, arms: [[170, 90], ANGLE.arms[1]] });
  expect(movePoint(ANGLE, second, [90, 170], FRAME)).toEqual({ ...ANGLE, arms: [ANGLE.arms[0], [90, 170]] });
  expect(insertPoint(ANGLE, first, [130, 100])).toBe(ANGLE);
});

test('inserting a point and removing it gives the shape back', () => {
  const inserted = insertPoint(PATCH, { line: 0, index: 3 }, [100, 150]);
  expect(linesOf(inserted)[0]?.points).toHaveLength(5);
  expect(removePoint(inserted, { line: 0, index: 4 })).toEqual({ ok: true, value: PATCH });
});

test.each<[string, Shape]>([
  [
    'trace',
    {
      form: 'trace',
      branches: [
        [
          [0, 0],
          [9, 9],
        ],
      ],
    },
  ],
  [
    'patch',
    {
      form: 'patch',
      outline: [
        [0, 0],
        [9, 0],
        [9, 9],
      ],
    },
  ],
  ['band', BAND],
  [
    'span',
    {
      form: 'span',
      ends: [
        [0, 0],
        [9, 9],
      ],
    },
  ],
  ['angle', ANGLE],
  ['spot', { form: 'spot', at: [4, 4] }],
])('a %s keeps its fewest points', (_, shape) => {
  const without = removePoint(shape, { line: 0, index: 0 });
  expect(without.ok ? null : without.error.code).toBe('points-min');
});

test('a side branch of two points goes as a whole, its start alone does not', () => {
  const end = removePoint(BRANCHED, { line: 1, index: 1 });
  expect(end.ok && end.value).toEqual({
    form: 'trace',
    branches: [
      [
        [10, 10],
        [20, 10],
        [30, 10],
      ],
    ],
  });
  const start = removePoint(BRANCHED, { line: 1, index: 0 });
  expect(start.ok ? null : start.error.code).toBe('branch-start');
  const joint = removePoint(BRANCHED, { line: 0, index: 1 });
  expect(joint.ok ? null : joint.error.code).toBe('branch-joined');
});

test('removing any point gives a valid shape or a reason', () => {
  fc.assert(
    fc.property(anyShape, fc.nat(20), (shape, pick) => {
      const refs = pointRefs(shape);
      const ref = refs[pick % refs.length];
      const without = ref ? removePoint(shape, ref) : null;
      if (without?.ok) expect(Shape.safeParse(without.value).success).toBe(true);
      else expect(without?.error.wayOut).toMatch(/\S/);
    }),
    { seed: SEED },
  );
});

test('a band is never narrower than a pixel', () => {
  expect(withWidth(BAND, 0.2)).toEqual({ ...BAND, widthPx: 1 });
  expect(withWidth(PATCH, 30)).toBe(PATCH);
});

test('an outline that crosses itself, a line and an arm of no length are refused', () => {
  const bow: Shape = {
    form: 'patch',
    outline: [
      [0, 0],
      [9, 9],
      [9, 0],
      [0, 9],
    ],
  };
  expect(shapeProblem(bow)?.code).toBe('outline-crosses');
  expect(
    shapeProblem({
      form: 'span',
      ends: [
        [3, 3],
        [3, 3],
      ],
    })?.code,
  ).toBe('no-length');
  const [, end] = ANGLE.arms;
  const bare = shapeProblem({ ...ANGLE, arms: [ANGLE.vertex, end] });
  expect(bare).toMatchObject({ code: 'arm-no-length', field: 'shape.arms' });
  expect(shapeProblem(ANGLE)).toBeNull();
  expect(shapeProblem(PATCH)).toBeNull();
  expect(shapeProblem({ form: 'spot', at: [0, 0] })).toBeNull();
});
