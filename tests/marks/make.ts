import fc from 'fast-check';
import type { Mark, PointPx, Shape } from '../../lib/marks/index.ts';

/** A seed for all random tests of this folder: a failure repeats. */
export const SEED = 20260317;

/** Id of a mark for a small number. */
function markId(n: number): string {
  return `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`;
}

/** A mark around a shape, everything else filled in. */
export function markOf(n: number, shape: Shape, note = ''): Mark {
  return {
    mark: markId(n),
    photo: 'a'.repeat(64),
    shape,
    defect: shape.form === 'trace' ? 'crack' : 'corrosion',
    component: markId(900),
    zone: 'gutter groove',
    clock: 3,
    method: 'visual',
    note,
  };
}

/** Points on a whole-pixel grid of 400 × 300. */
export const anyPoint: fc.Arbitrary<PointPx> = fc.tuple(
  fc.integer({ min: 0, max: 399 }),
  fc.integer({ min: 0, max: 299 }),
);

const line = fc.array(anyPoint, { minLength: 2, maxLength: 6 });

/** Shapes of every form, not necessarily sensible ones. */
export const anyShape: fc.Arbitrary<Shape> = fc.oneof(
  line.map((points): Shape => ({ form: 'trace', branches: [points] })),
  fc.array(anyPoint, { minLength: 3, maxLength: 7 }).map((outline): Shape => ({ form: 'patch', outline })),
  fc
    .tuple(line, fc.integer({ min: 1, max: 40 }))
    .map(([centreLine, widthPx]): Shape => ({ form: 'band', centreLine, widthPx })),
  fc.tuple(anyPoint, anyPoint).map((ends): Shape => ({ form: 'span', ends })),
  fc
    .tuple(anyPoint, anyPoint, anyPoint)
    .map(([vertex, a, b]): Shape => ({ form: 'angle', vertex, arms: [a, b] })),
  anyPoint.map((at): Shape => ({ form: 'spot', at })),
);

export const ANGLE: Shape & { form: 'angle' } = {
  form: 'angle',
  vertex: [100, 100],
  arms: [
    [160, 100],
    [100, 180],
  ],
};

export const BRANCHED: Shape = {
  form: 'trace',
  branches: [
    [
      [10, 10],
      [20, 10],
      [30, 10],
    ],
    [
      [20, 10],
      [20, 40],
    ],
  ],
};

export const PATCH: Extract<Shape, { form: 'patch' }> = {
  form: 'patch',
  outline: [
    [100, 100],
    [200, 100],
    [200, 200],
    [100, 200],
  ],
};

export const BAND: Shape = {
  form: 'band',
  centreLine: [
    [50, 50],
    [150, 50],
  ],
  widthPx: 20,
};
