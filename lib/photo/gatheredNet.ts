import type { PointPair } from './alignment.ts';
import { type Homography, mapPoint, type Point } from './homography.ts';
import {
  inverseOf,
  isInside,
  isKnownAt,
  mapThrough,
  type Net,
  type PhotoMap,
  type PictureSize,
} from './photoMap.ts';

/**
 * A net through many pairs of points that may hold strays: at each node the median of what those around it say beyond the
 * homography. Nodes with fewer than `least` of them are not known.
 */
export function gatheredNet(
  size: PictureSize,
  homography: Homography,
  pairs: Iterable<PointPair>,
  { columns, rows, least }: { readonly columns: number; readonly rows: number; readonly least: number },
): Net {
  const gathered: Point[][] = Array.from({ length: columns * rows }, () => []);
  for (const { from, to } of pairs) {
    const column = Math.round(((from[0] + 0.5) / size.widthPx) * (columns - 1));
    const row = Math.round(((from[1] + 0.5) / size.heightPx) * (rows - 1));
    const [x, y] = mapPoint(homography, from);
    gathered[row * columns + column]?.push([to[0] - x, to[1] - y]);
  }
  const shifts = gathered.map((list): Point | null =>
    list.length < least ? null : [middle(list.map(([x]) => x)), middle(list.map(([, y]) => y))],
  );
  const known = shifts.map((shift) => shift !== null);
  return { columns, rows, shiftsPx: filledShifts(columns, rows, shifts), known };
}

function middle(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}

/** Points of the first picture that the way back is made of: every so many of them across. */
const ACROSS = 200;
const LEAST = 3;

/**
 * The way back of a map, gathered from where its known places go: over steps that hide each other it cannot be had by
 * turning round. As fine as the map’s own net; of a map without a net the inverse homography.
 */
export function turnedAround(map: PhotoMap): { readonly homography: Homography; readonly net: Net | null } {
  const { from, to, net } = map;
  const homography = inverseOf(map.homography);
  if (net === null) return { homography, net: null };
  const pairs: PointPair[] = [];
  const step = from.widthPx / ACROSS;
  for (let y = step / 2; y < from.heightPx; y += step)
    for (let x = step / 2; x < from.widthPx; x += step) {
      if (!isKnownAt(map, [x, y])) continue;
      const there = mapThrough(map, [x, y]);
      if (isInside(to, there)) pairs.push({ from: there, to: [x, y] });
    }
  return {
    homography,
    net: gatheredNet(to, homography, pairs, { columns: net.columns, rows: net.rows, least: LEAST }),
  };
}

/** Shifts of a net: nodes that nothing is known of go with the mean of their neighbours, outwards from what is known. */
export function filledShifts(columns: number, rows: number, shifts: readonly (Point | null)[]): Point[] {
  let now = [...shifts];
  for (let round = 0; round < columns + rows && now.includes(null); round += 1) {
    const before = now;
    now = before.map((shift, i) => {
      if (shift !== null) return shift;
      const column = i % columns;
      const near = [
        column > 0 ? before[i - 1] : null,
        column < columns - 1 ? before[i + 1] : null,
        before[i - columns],
        before[i + columns],
      ].filter((one): one is Point => one !== null && one !== undefined);
      if (near.length === 0) return null;
      return [
        near.reduce((sum, [x]) => sum + x, 0) / near.length,
        near.reduce((sum, [, y]) => sum + y, 0) / near.length,
      ];
    });
  }
  return now.map((shift) => shift ?? [0, 0]);
}
