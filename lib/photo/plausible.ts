import type { Point } from './homography.ts';
import { isInside, isKnownAt, mapThrough, type PhotoMap } from './photoMap.ts';

/** What a map between two photos of one place does to a small square: limits of our own choice. */
export const PLAUSIBLE = {
  /** Enlarged or made smaller by this factor at most. */
  scaleMost: 5,
  /** Stretched one way against the other at most. */
  stretchMost: 6,
} as const;

/** How a map turns and stretches a small square at a point. */
interface Stretch {
  /** Below 0 where the map shows things mirrored. */
  readonly turns: number;
  /** Larger and smaller singular value of the derivative. */
  readonly most: number;
  readonly least: number;
}

function stretchAt(map: PhotoMap, [x, y]: Point): Stretch {
  const h = Math.max(map.from.widthPx, map.from.heightPx) / 100;
  const [l, r] = [mapThrough(map, [x - h, y]), mapThrough(map, [x + h, y])];
  const [t, b] = [mapThrough(map, [x, y - h]), mapThrough(map, [x, y + h])];
  const [a, c] = [(r[0] - l[0]) / (2 * h), (r[1] - l[1]) / (2 * h)];
  const [p, q] = [(b[0] - t[0]) / (2 * h), (b[1] - t[1]) / (2 * h)];
  const turns = a * q - p * c;
  const square = a * a + c * c + p * p + q * q;
  const root = Math.sqrt(Math.max(0, square * square - 4 * turns * turns));
  const most = Math.sqrt((square + root) / 2);
  return { turns, most, least: Math.abs(turns) / most };
}

/**
 * Whether two photos of one place can be related so, looked at round the points where the map is used: nothing mirrored
 * or folded, no part beyond the horizon, scale and stretch within `PLAUSIBLE`.
 */
export function isPlausible(map: PhotoMap, near: readonly Point[]): boolean {
  return near.every((at) => {
    const { turns, most, least } = stretchAt(map, at);
    return (
      turns > 0 &&
      most < PLAUSIBLE.scaleMost &&
      least > 1 / PLAUSIBLE.scaleMost &&
      most < PLAUSIBLE.stretchMost * least
    );
  });
}

const ACROSS = 40;

/** Share of the first picture that is told to be found again in the second one, 0 to 1. */
export function overlapOf(map: PhotoMap): number {
  let inside = 0;
  for (let k = 0; k < ACROSS; k += 1)
    for (let i = 0; i < ACROSS; i += 1) {
      const at: Point = [((i + 0.5) / ACROSS) * map.from.widthPx, ((k + 0.5) / ACROSS) * map.from.heightPx];
      if (isKnownAt(map, at) && isInside(map.to, mapThrough(map, at))) inside += 1;
    }
  return inside / ACROSS ** 2;
}
