import type { Point } from './homography.ts';

/** Length of a polyline, in the unit of its points. */
export function polylineLength(points: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i += 1) {
    const [x0, y0] = points[i - 1] ?? [0, 0];
    const [x1, y1] = points[i] ?? [0, 0];
    sum += Math.hypot(x1 - x0, y1 - y0);
  }
  return sum;
}

/** Area of a simple polygon by the shoelace formula, never negative, in the squared unit of its points. */
export function polygonArea(outline: readonly Point[]): number {
  let twice = 0;
  for (let i = 0; i < outline.length; i += 1) {
    const [x0, y0] = outline[i] ?? [0, 0];
    const [x1, y1] = outline[(i + 1) % outline.length] ?? [0, 0];
    twice += x0 * y1 - x1 * y0;
  }
  return Math.abs(twice) / 2;
}
