import { assertNever, must } from '../base/index.ts';
import type { PointPx, Shape } from './shape.ts';

/** One of a shape's points: which of its lines, and which point along that line, both from 0. */
export interface PointRef {
  readonly line: number;
  readonly index: number;
}

/** A run of points of a shape; `closed` when the last is joined to the first. */
export interface ShapeLine {
  readonly points: readonly PointPx[];
  readonly closed: boolean;
}

/** The lines of a shape in order, px: a trace has one per branch, every other form has one; that of an angle goes over its vertex. */
export function linesOf(shape: Shape): readonly ShapeLine[] {
  switch (shape.form) {
    case 'trace':
      return shape.branches.map((points) => ({ points, closed: false }));
    case 'patch':
      return [{ points: shape.outline, closed: true }];
    case 'band':
      return [{ points: shape.centreLine, closed: false }];
    case 'span':
      return [{ points: shape.ends, closed: false }];
    case 'angle':
      return [{ points: [shape.arms[0], shape.vertex, shape.arms[1]], closed: false }];
    case 'spot':
      return [{ points: [shape.at], closed: false }];
    default:
      return assertNever(shape);
  }
}

/** The same shape with each point replaced by `change` of it; the width of a band stays. */
export function mapPoints(shape: Shape, change: (at: PointPx, ref: PointRef) => PointPx): Shape {
  const line = (points: readonly PointPx[], lineIndex: number): PointPx[] =>
    points.map((at, index) => change(at, { line: lineIndex, index }));
  switch (shape.form) {
    case 'trace':
      return { form: 'trace', branches: shape.branches.map(line) };
    case 'patch':
      return { form: 'patch', outline: line(shape.outline, 0) };
    case 'band':
      return { form: 'band', centreLine: line(shape.centreLine, 0), widthPx: shape.widthPx };
    case 'span': {
      const [a, b] = shape.ends;
      return { form: 'span', ends: [change(a, { line: 0, index: 0 }), change(b, { line: 0, index: 1 })] };
    }
    case 'angle': {
      const [a, b] = shape.arms;
      const vertex = change(shape.vertex, { line: 0, index: 1 });
      return {
        form: 'angle',
        vertex,
        arms: [change(a, { line: 0, index: 0 }), change(b, { line: 0, index: 2 })],
      };
    }
    case 'spot':
      return { form: 'spot', at: change(shape.at, { line: 0, index: 0 }) };
    default:
      return assertNever(shape);
  }
}

/** The point a reference names, px. Throws when the shape has no such point. */
export function pointAt(shape: Shape, ref: PointRef): PointPx {
  const line = must(linesOf(shape)[ref.line], `line ${ref.line} of the ${shape.form}`);
  return must(line.points[ref.index], `point ${ref.index} of the ${shape.form}`);
}

/** Whether the shape has the point a reference names. */
export function hasPoint(shape: Shape, ref: PointRef): boolean {
  return linesOf(shape)[ref.line]?.points[ref.index] !== undefined;
}

/** References to all points of a shape, line by line. */
export function pointRefs(shape: Shape): PointRef[] {
  return linesOf(shape).flatMap((line, lineIndex) =>
    line.points.map((_, index) => ({ line: lineIndex, index })),
  );
}

/** Whether two references name the same point. */
export function sameRef(a: PointRef, b: PointRef): boolean {
  return a.line === b.line && a.index === b.index;
}
