import { must } from '../base/index.ts';
import type { PointPx } from './shape.ts';

/** Straight-line distance of two points, px. */
export function distancePx(a: PointPx, b: PointPx): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** Length along a line through its points in order, px; 0 for fewer than two points. */
export function lineLengthPx(points: readonly PointPx[]): number {
  let lengthPx = 0;
  for (const [a, b] of segmentsOf(points, false)) lengthPx += distancePx(a, b);
  return lengthPx;
}

/** Neighbouring points in pairs; with `closed`, the last with the first as well. Empty below two points. */
export function segmentsOf(points: readonly PointPx[], closed: boolean): [PointPx, PointPx][] {
  const pairs: [PointPx, PointPx][] = [];
  for (let i = 1; i < points.length; i += 1) {
    pairs.push([must(points[i - 1], 'segment start'), must(points[i], 'segment end')]);
  }
  const first = points[0];
  const last = points[points.length - 1];
  if (closed && points.length > 2 && first && last) pairs.push([last, first]);
  return pairs;
}

/**
 * Area enclosed by an outline, px², never negative (shoelace formula); 0 for fewer than three points.
 * Means what it says only for an outline that does not cross itself.
 */
export function outlineAreaPx2(outline: readonly PointPx[]): number {
  let twice = 0;
  for (const [a, b] of segmentsOf(outline, true)) twice += a[0] * b[1] - b[0] * a[1];
  return Math.abs(twice) / 2;
}

/** The place on a segment nearest to `p`: where, how far along (0 … 1) and how far away (px). */
export interface Nearest {
  readonly at: PointPx;
  readonly along: number;
  readonly distancePx: number;
}

/** Nearest place on the segment from `a` to `b`; a segment of no length counts as its point. */
export function nearestOnSegment(p: PointPx, a: PointPx, b: PointPx): Nearest {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  const raw = square === 0 ? 0 : ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
  const along = Math.min(1, Math.max(0, raw));
  const at: PointPx = [a[0] + along * dx, a[1] + along * dy];
  return { at, along, distancePx: distancePx(p, at) };
}

/** Whether `p` lies inside an outline (even-odd rule); a point exactly on the line may fall either way. */
export function insideOutline(p: PointPx, outline: readonly PointPx[]): boolean {
  let inside = false;
  for (const [a, b] of segmentsOf(outline, true)) {
    if (a[1] > p[1] === b[1] > p[1]) continue;
    if (p[0] < a[0] + ((p[1] - a[1]) * (b[0] - a[0])) / (b[1] - a[1])) inside = !inside;
  }
  return inside;
}

function turn(a: PointPx, b: PointPx, c: PointPx): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

function withinBox(p: PointPx, a: PointPx, b: PointPx): boolean {
  return (
    p[0] >= Math.min(a[0], b[0]) &&
    p[0] <= Math.max(a[0], b[0]) &&
    p[1] >= Math.min(a[1], b[1]) &&
    p[1] <= Math.max(a[1], b[1])
  );
}

/** Whether two segments have a point in common, touching included. */
export function segmentsMeet(a: PointPx, b: PointPx, c: PointPx, d: PointPx): boolean {
  const [abc, abd, cda, cdb] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
  if (abc !== abd && cda !== cdb) return true;
  return (
    (abc === 0 && withinBox(c, a, b)) ||
    (abd === 0 && withinBox(d, a, b)) ||
    (cda === 0 && withinBox(a, c, d)) ||
    (cdb === 0 && withinBox(b, c, d))
  );
}

/**
 * Whether a closed outline meets itself anywhere but at the joints of neighbouring sides,
 * or folds straight back on itself. Compares all pairs of sides: meant for hand-drawn outlines.
 */
export function outlineCrossesItself(outline: readonly PointPx[]): boolean {
  const sides = segmentsOf(outline, true);
  for (let i = 0; i < sides.length; i += 1) {
    const [a, b] = must(sides[i], 'side');
    for (let j = i + 1; j < sides.length; j += 1) {
      const [c, d] = must(sides[j], 'side');
      const follows = j === i + 1;
      const precedes = i === 0 && j === sides.length - 1;
      if (follows || precedes) {
        const [joint, before, after] = follows ? [b, a, d] : [a, c, b];
        if (foldsBack(before, joint, after)) return true;
      } else if (segmentsMeet(a, b, c, d)) return true;
    }
  }
  return false;
}

function foldsBack(before: PointPx, joint: PointPx, after: PointPx): boolean {
  if (turn(before, joint, after) !== 0) return false;
  const dot = (before[0] - joint[0]) * (after[0] - joint[0]) + (before[1] - joint[1]) * (after[1] - joint[1]);
  return dot > 0;
}
