import { assertNever, fail, must, ok, type Problem, problem, type Result } from '../base/index.ts';
import { hasPoint, linesOf, mapPoints, type PointRef, pointAt, sameRef } from './lines.ts';
import { type BoxPx, boundsPx } from './measure.ts';
import { distancePx, outlineCrossesItself } from './points.ts';
import type { PointPx, Shape } from './shape.ts';

/** Size of the upright original, px. */
export interface FramePx {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Narrowest band that can be drawn, px. */
const BAND_WIDTH_PX_MIN = 1;
const STEPS_PER_PX = 100;

/** The area a photo covers in pixel-centre coordinates: half a pixel beyond the outer centres. */
export function frameBox(frame: FramePx): BoxPx {
  return { left: -0.5, top: -0.5, right: frame.widthPx - 0.5, bottom: frame.heightPx - 0.5 };
}

/** A point held inside the photo and to a hundredth of a pixel, the finest a hand or a zoom can give. */
export function keptPoint(at: PointPx, frame: FramePx): PointPx {
  const box = frameBox(frame);
  const hold = (value: number, low: number, high: number): number =>
    Math.round(Math.min(high, Math.max(low, value)) * STEPS_PER_PX) / STEPS_PER_PX + 0;
  return [hold(at[0], box.left, box.right), hold(at[1], box.top, box.bottom)];
}

function isJoined(shape: Shape, ref: PointRef, other: PointRef): boolean {
  const [a, b] = [pointAt(shape, ref), pointAt(shape, other)];
  return a[0] === b[0] && a[1] === b[1] && (ref.line === other.line ? sameRef(ref, other) : true);
}

/** The shape with one point at a new place; where branches of a trace join there, they come along. */
export function movePoint(shape: Shape, ref: PointRef, to: PointPx, frame: FramePx): Shape {
  const kept = keptPoint(to, frame);
  return mapPoints(shape, (at, other) => (isJoined(shape, ref, other) ? kept : at));
}

/** The whole shape shifted by `byPx`, stopped where its points would leave the photo; its form never changes. */
export function moveShape(shape: Shape, byPx: PointPx, frame: FramePx): Shape {
  const box = frameBox(frame);
  const bounds = boundsPx(shape.form === 'band' ? { ...shape, widthPx: Number.MIN_VALUE } : shape);
  const hold = (by: number, low: number, high: number): number =>
    Math.round(Math.min(Math.max(by, Math.min(0, low)), Math.max(0, high)) * STEPS_PER_PX) / STEPS_PER_PX;
  const dx = hold(byPx[0], box.left - bounds.left, box.right - bounds.right);
  const dy = hold(byPx[1], box.top - bounds.top, box.bottom - bounds.bottom);
  return mapPoints(shape, ([x, y]) => keptPoint([x + dx, y + dy], frame));
}

function withLine(shape: Shape, line: number, points: PointPx[]): Shape {
  switch (shape.form) {
    case 'trace':
      return {
        form: 'trace',
        branches: shape.branches.map((branch, index) => (index === line ? points : branch)),
      };
    case 'patch':
      return { form: 'patch', outline: points };
    case 'band':
      return { ...shape, centreLine: points };
    case 'span':
    case 'angle':
    case 'spot':
      return shape;
    default:
      return assertNever(shape);
  }
}

/** The shape with a new point after the one `after` names; a span, an angle and a spot stay as they are. */
export function insertPoint(shape: Shape, after: PointRef, at: PointPx): Shape {
  const line = must(linesOf(shape)[after.line], 'line to insert into');
  return withLine(shape, after.line, line.points.toSpliced(after.index + 1, 0, at));
}

/** Fewest points a line of this form can have. */
function pointsMin(form: Shape['form']): number {
  return form === 'patch' || form === 'angle' ? 3 : form === 'spot' ? 1 : 2;
}

/**
 * The shape without one point. A side branch of two points goes as a whole.
 * Fails, changing nothing, when too few points would be left or a branch starts at this point.
 */
export function removePoint(shape: Shape, ref: PointRef): Result<Shape, Problem> {
  const line = must(linesOf(shape)[ref.line], 'line to remove from');
  const isBranchStart = shape.form === 'trace' && ref.line > 0 && ref.index === 0;
  if (isBranchStart) {
    return fail(
      problem(
        'branch-start',
        'shape',
        '',
        'This point holds the branch to its crack',
        'Remove the far end first.',
      ),
    );
  }
  const startsHere =
    shape.form === 'trace' &&
    shape.branches.some((_, other) => other > ref.line && isJoined(shape, ref, { line: other, index: 0 }));
  if (startsHere) {
    return fail(
      problem('branch-joined', 'shape', '', 'A branch starts at this point', 'Remove the branch first.'),
    );
  }
  if (line.points.length > pointsMin(shape.form)) {
    return ok(withLine(shape, ref.line, line.points.toSpliced(ref.index, 1)));
  }
  if (shape.form === 'trace' && ref.line > 0) {
    return ok({ form: 'trace', branches: shape.branches.toSpliced(ref.line, 1) });
  }
  const count = line.points.length;
  return fail(
    problem(
      'points-min',
      'shape',
      count,
      `Fewer than ${count} points would not make this mark`,
      'Remove the whole mark instead.',
    ),
  );
}

/** A band with another width, px, at least 1; any other shape stays as it is. */
export function withWidth(shape: Shape, widthPx: number): Shape {
  if (shape.form !== 'band') return shape;
  const kept = Math.round(Math.max(BAND_WIDTH_PX_MIN, widthPx) * STEPS_PER_PX) / STEPS_PER_PX;
  return { ...shape, widthPx: kept };
}

/**
 * What stops a shape from being taken into the record, or null: an outline must not cross itself, a length not be nil,
 * nor an arm of an angle.
 */
export function shapeProblem(shape: Shape): Problem | null {
  if (shape.form === 'patch' && outlineCrossesItself(shape.outline)) {
    return problem(
      'outline-crosses',
      'shape',
      '',
      'The outline crosses itself, so its area means nothing',
      'Move the crossing points apart.',
    );
  }
  if (shape.form === 'angle' && shape.arms.some((end) => distancePx(end, shape.vertex) === 0)) {
    return problem(
      'arm-no-length',
      'shape.arms',
      shape.arms,
      'One arm of the angle ends on its vertex, so it has no direction',
      'Move its end along the line, well away from the vertex.',
    );
  }
  for (const { points } of linesOf(shape)) {
    const first = points[0];
    if (shape.form !== 'spot' && first && points.every((p) => p[0] === first[0] && p[1] === first[1])) {
      return problem(
        'no-length',
        'shape',
        '',
        'All points lie on one spot',
        'Set the points apart, or use a spot.',
      );
    }
  }
  return null;
}

/** `ref` when the shape still has that point, otherwise null. */
export function pointStillThere(shape: Shape, ref: PointRef | null): PointRef | null {
  return ref !== null && hasPoint(shape, ref) ? ref : null;
}
