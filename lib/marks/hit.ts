import { must } from '../base/index.ts';
import { linesOf, type PointRef } from './lines.ts';
import { boundsPx } from './measure.ts';
import { distancePx, insideOutline, nearestOnSegment, outlineAreaPx2, segmentsOf } from './points.ts';
import type { PointPx, Shape } from './shape.ts';

type Band = Extract<Shape, { form: 'band' }>;

/** A place on a selected shape that can be taken hold of; `ref` of an insert handle is the point before it. */
export type Handle =
  | { readonly kind: 'point'; readonly ref: PointRef; readonly at: PointPx }
  | { readonly kind: 'insert'; readonly ref: PointRef; readonly at: PointPx }
  | { readonly kind: 'width'; readonly at: PointPx };

/** What a touch meets on one shape: a handle, its line, or only the inside of its outline. */
export type Hit = Handle | { readonly kind: 'line' } | { readonly kind: 'inside' };

/** Sides shorter than this many reaches get no insert handle: it would cover their ends. */
const INSERT_REACHES_MIN = 3;
const LINE_REACH_SHARE = 0.8;

function widthHandle(band: Band, reachPx: number): Handle {
  const middle = Math.floor((band.centreLine.length - 1) / 2);
  const a = must(band.centreLine[middle], 'middle of the band');
  const b = must(band.centreLine[middle + 1], 'point after the middle');
  const length = distancePx(a, b) || 1;
  const out = band.widthPx / 2 + reachPx;
  const at: PointPx = [
    (a[0] + b[0]) / 2 - ((b[1] - a[1]) / length) * out,
    (a[1] + b[1]) / 2 + ((b[0] - a[0]) / length) * out,
  ];
  return { kind: 'width', at };
}

/**
 * Handles of a selected shape for a touch that reaches `reachPx` (px of the photo): every point,
 * the middle of every side long enough, and, one reach outside its edge, the width of a band.
 */
export function handlesOf(shape: Shape, reachPx: number): Handle[] {
  const handles: Handle[] = [];
  linesOf(shape).forEach(({ points, closed }, line) => {
    points.forEach((at, index) => {
      handles.push({ kind: 'point', ref: { line, index }, at });
    });
    if (shape.form === 'span' || shape.form === 'angle' || shape.form === 'spot') return;
    segmentsOf(points, closed).forEach(([a, b], index) => {
      if (distancePx(a, b) < INSERT_REACHES_MIN * reachPx) return;
      handles.push({ kind: 'insert', ref: { line, index }, at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] });
    });
  });
  if (shape.form === 'band') handles.push(widthHandle(shape, reachPx));
  return handles;
}

/** Distance from `p` to the nearest line or point of a shape, px; a band counts from its edges, 0 between them. */
export function distanceToShapePx(shape: Shape, p: PointPx): number {
  let least = Infinity;
  for (const { points, closed } of linesOf(shape)) {
    const only = points[0];
    if (points.length === 1 && only) least = Math.min(least, distancePx(p, only));
    for (const [a, b] of segmentsOf(points, closed))
      least = Math.min(least, nearestOnSegment(p, a, b).distancePx);
  }
  return shape.form === 'band' ? Math.max(0, least - shape.widthPx / 2) : least;
}

/** Handle nearest to `p` within `reachPx` (px of the photo); a point wins over an insert handle. Null when none. */
function handleUnder(shape: Shape, p: PointPx, reachPx: number): Handle | null {
  let best: Handle | null = null;
  let bestPx = reachPx;
  for (const handle of handlesOf(shape, reachPx)) {
    const away = distancePx(handle.at, p);
    if (away > bestPx || (away === bestPx && best !== null)) continue;
    best = handle;
    bestPx = away;
  }
  return best;
}

/** What a touch at `p` meets on a selected shape: the nearest handle, else its line, else its inside, else null. */
export function hitShape(shape: Shape, p: PointPx, reachPx: number): Hit | null {
  const handle = handleUnder(shape, p, reachPx);
  if (handle !== null) return handle;
  if (distanceToShapePx(shape, p) <= reachPx * LINE_REACH_SHARE) return { kind: 'line' };
  if (shape.form === 'patch' && insideOutline(p, shape.outline)) return { kind: 'inside' };
  return null;
}

/** A shape under the id of its mark. */
export interface NamedShape {
  readonly mark: string;
  readonly shape: Shape;
}

/**
 * The mark a tap at `p` means: the one whose line is nearest within reach, else the smallest outline
 * around `p`, else null. `reachPx` in px of the photo.
 */
export function markUnder(marks: readonly NamedShape[], p: PointPx, reachPx: number): string | null {
  let nearest: { mark: string; away: number } | null = null;
  let around: { mark: string; area: number } | null = null;
  for (const { mark, shape } of marks) {
    const box = boundsPx(shape);
    const outside =
      p[0] < box.left - reachPx ||
      p[0] > box.right + reachPx ||
      p[1] < box.top - reachPx ||
      p[1] > box.bottom + reachPx;
    if (outside) continue;
    const away = distanceToShapePx(shape, p);
    if (away <= reachPx && (nearest === null || away < nearest.away)) nearest = { mark, away };
    if (shape.form !== 'patch' || !insideOutline(p, shape.outline)) continue;
    const area = outlineAreaPx2(shape.outline);
    if (around === null || area < around.area) around = { mark, area };
  }
  return nearest?.mark ?? around?.mark ?? null;
}
