import { type FramePx, insertPoint, movePoint, moveShape, withWidth } from './edit.ts';
import type { Handle } from './hit.ts';
import { type PointRef, pointAt } from './lines.ts';
import { distancePx, nearestOnSegment, segmentsOf } from './points.ts';
import type { PointPx, Shape } from './shape.ts';

/** What is held while a mark is changed; `offset` is from the finger to the point, so that taking hold moves nothing. */
export type Grip =
  | { readonly kind: 'point'; readonly ref: PointRef; readonly offset: PointPx }
  | { readonly kind: 'body' }
  | { readonly kind: 'width'; readonly outPx: number };

/** A change of a mark under way. Nothing is told to the record before it ends. */
export interface Edit {
  readonly mark: string;
  readonly before: Shape;
  readonly shape: Shape;
  /** Null while arrow keys nudge. */
  readonly grip: Grip | null;
  readonly from: PointPx;
  /** False until the finger has left the place where it went down. */
  readonly moved: boolean;
  /** True after a long press on a point: lifting removes it, moving on keeps it. */
  readonly removing: boolean;
}

function offset(from: PointPx, to: PointPx): PointPx {
  return [to[0] - from[0], to[1] - from[1]];
}

/** Begins a change by taking hold of a handle, or of the body when `handle` is null. Distances in px. */
export function takeHold(mark: string, shape: Shape, handle: Handle | null, from: PointPx): Edit {
  const start = { mark, before: shape, shape, from, moved: false, removing: false };
  if (handle === null) return { ...start, grip: { kind: 'body' } };
  switch (handle.kind) {
    case 'point':
      return { ...start, grip: { kind: 'point', ref: handle.ref, offset: offset(from, handle.at) } };
    case 'width': {
      const halfPx = shape.form === 'band' ? shape.widthPx / 2 : 0;
      return { ...start, grip: { kind: 'width', outPx: lineDistance(shape, from) - halfPx } };
    }
    case 'insert': {
      const ref = { line: handle.ref.line, index: handle.ref.index + 1 };
      return {
        ...start,
        shape: insertPoint(shape, handle.ref, handle.at),
        grip: { kind: 'point', ref, offset: offset(from, handle.at) },
      };
    }
  }
}

function lineDistance(shape: Shape, p: PointPx): number {
  if (shape.form !== 'band') return 0;
  return Math.min(
    ...segmentsOf(shape.centreLine, false).map(([a, b]) => nearestOnSegment(p, a, b).distancePx),
  );
}

/** The change carried on to where the finger is now, px; within `slopPx` of its start nothing moves yet. */
export function dragTo(edit: Edit, to: PointPx, slopPx: number, frame: FramePx): Edit {
  if (edit.grip === null) return edit;
  if (!edit.moved && distancePx(edit.from, to) <= slopPx) return edit;
  const held = { ...edit, moved: true, removing: false };
  switch (edit.grip.kind) {
    case 'point': {
      const at: PointPx = [to[0] + edit.grip.offset[0], to[1] + edit.grip.offset[1]];
      return { ...held, shape: movePoint(edit.shape, edit.grip.ref, at, frame) };
    }
    case 'body':
      return { ...held, shape: moveShape(edit.before, offset(edit.from, to), frame) };
    case 'width':
      return {
        ...held,
        shape: withWidth(edit.before, 2 * (lineDistance(edit.before, to) - edit.grip.outPx)),
      };
  }
}

/** A mark's point, or the whole mark when `ref` is null, shifted by whole or part pixels from the keyboard. */
export function nudge(
  edit: Edit | null,
  mark: string,
  shape: Shape,
  ref: PointRef | null,
  byPx: PointPx,
  frame: FramePx,
): Edit {
  const start: Edit = edit ?? {
    mark,
    before: shape,
    shape,
    grip: null,
    from: [0, 0],
    moved: true,
    removing: false,
  };
  const next =
    ref === null
      ? moveShape(start.shape, byPx, frame)
      : movePoint(start.shape, ref, shift(pointAt(start.shape, ref), byPx), frame);
  return { ...start, shape: next };
}

function shift(at: PointPx, byPx: PointPx): PointPx {
  return [at[0] + byPx[0], at[1] + byPx[1]];
}
