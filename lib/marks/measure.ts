import { must } from '../base/index.ts';
import { linesOf } from './lines.ts';
import { distancePx, lineLengthPx, outlineAreaPx2 } from './points.ts';
import type { PointPx, Shape } from './shape.ts';

type Band = Extract<Shape, { form: 'band' }>;

/** An upright rectangle on the photo, px; `right` and `bottom` are coordinates, not sizes. */
export interface BoxPx {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Area of a shape on the photo, px²: a patch by its outline, a band as length × width; null for lines and spots. */
export function shapeAreaPx2(shape: Shape): number | null {
  if (shape.form === 'patch') return outlineAreaPx2(shape.outline);
  if (shape.form === 'band') return lineLengthPx(shape.centreLine) * shape.widthPx;
  return null;
}

/** Smallest upright rectangle around a shape, px; half the width of a band is added on each side. */
export function boundsPx(shape: Shape): BoxPx {
  const grow = shape.form === 'band' ? shape.widthPx / 2 : 0;
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
  for (const { points } of linesOf(shape)) {
    for (const [x, y] of points) {
      box.left = Math.min(box.left, x - grow);
      box.top = Math.min(box.top, y - grow);
      box.right = Math.max(box.right, x + grow);
      box.bottom = Math.max(box.bottom, y + grow);
    }
  }
  return box;
}

/** Whether two rectangles have any place in common, edges included. */
export function boxesMeet(a: BoxPx, b: BoxPx): boolean {
  return a.left <= b.right && b.left <= a.right && a.top <= b.bottom && b.top <= a.bottom;
}

function unitNormal(a: PointPx, b: PointPx): PointPx {
  const length = distancePx(a, b);
  return length === 0 ? [0, 0] : [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
}

/**
 * The two edges of a band, px, each with one point per point of the centre line. Corners are mitred,
 * at most twice the half width, so that a sharp bend does not throw a spike.
 */
export function bandEdgesPx(band: Band): [PointPx[], PointPx[]] {
  const half = band.widthPx / 2;
  const line = band.centreLine;
  const left: PointPx[] = [];
  const right: PointPx[] = [];
  for (let i = 0; i < line.length; i += 1) {
    const here = must(line[i], 'point of the centre line');
    const before = line[i - 1];
    const after = line[i + 1];
    const into = before ? unitNormal(before, here) : unitNormal(here, must(after, 'second point'));
    const out = after ? unitNormal(here, after) : into;
    const sum: PointPx = [into[0] + out[0], into[1] + out[1]];
    const size = Math.hypot(...sum);
    const mean: PointPx = size < 1e-9 ? into : [sum[0] / size, sum[1] / size];
    const cosine = Math.max(0.5, mean[0] * into[0] + mean[1] * into[1]);
    const reach = half / cosine;
    left.push([here[0] + mean[0] * reach, here[1] + mean[1] * reach]);
    right.push([here[0] - mean[0] * reach, here[1] - mean[1] * reach]);
  }
  return [left, right];
}
