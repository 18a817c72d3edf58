import {
  type Homography,
  mapPoint,
  mapThrough,
  netNodes,
  netThrough,
  type PhotoMap,
  type PictureSize,
  type Point,
} from '../../photo/index.ts';
import type { Cv } from './cv.ts';
import type { Match } from './matches.ts';

/** The plane that most matches agree with (USAC with MAGSAC, Barath 2020, as in OpenCV); null where there is none. */
export function planeThrough(
  cv: Cv,
  matches: readonly Match[],
  thresholdPx: number,
): { homography: Homography; inliers: Match[] } | null {
  if (matches.length < 4) return null;
  const matOf = (of: 'from' | 'to') =>
    cv.matFromArray(
      matches.length,
      1,
      cv.CV_32FC2,
      matches.flatMap((match) => [...match[of]]),
    );
  const [from, to, kept] = [matOf('from'), matOf('to'), new cv.Mat()];
  const found = cv.findHomography(from, to, cv.USAC_MAGSAC, thresholdPx, kept, 20_000, 0.9999);
  const inliers = matches.filter((_, i) => kept.data[i] === 1);
  const values = found.rows === 3 ? Array.from(found.data64F) : null;
  for (const mat of [from, to, kept, found]) mat.delete();
  return values === null ? null : { homography: values as unknown as Homography, inliers };
}

/**
 * How far a map misses a match, px of the second picture; in directions that the match says little of, as much less as it
 * says less.
 */
export function missPx(map: PhotoMap, { from, to, weight: [xx, xy, yy] }: Match): number {
  const [x, y] = mapThrough(map, from);
  const [dx, dy] = [x - to[0], y - to[1]];
  const whole = Math.max(1e-9, (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy));
  const square = (xx * dx * dx + 2 * xy * dx * dy + yy * dy * dy) / whole;
  return Number.isFinite(square) ? Math.sqrt(Math.max(0, square)) : Number.POSITIVE_INFINITY;
}

/** Tukey's weight: 1 where nothing is missed, 0 from `limitPx` on. */
const tukey = (miss: number, limitPx: number) => (miss < limitPx ? (1 - (miss / limitPx) ** 2) ** 2 : 0);

/**
 * A homography and a net through matches that may still hold strays: weights by how far the last map missed each one,
 * with limits that shrink (iteratively reweighted least squares). Fails as null where the matches do not fix a plane.
 */
export function mapThroughMatches(
  sizes: { readonly from: PictureSize; readonly to: PictureSize },
  first: PhotoMap,
  matches: readonly Match[],
  limitsPx: readonly number[],
): PhotoMap {
  let map = first;
  for (const limitPx of limitsPx) {
    const { homography } = map;
    map = {
      ...sizes,
      homography,
      net: netThrough(
        sizes.from,
        matches.flatMap((match) => {
          const share = tukey(missPx(map, match), limitPx);
          const [x, y] = mapPoint(homography, match.from);
          const [xx, xy, yy] = match.weight;
          const weight = [share * xx, share * xy, share * yy] as const;
          return share > 0
            ? [{ at: match.from, overPx: [match.to[0] - x, match.to[1] - y] as const, weight }]
            : [];
        }),
      ),
    };
  }
  return map;
}

/**
 * A map moved smoothly so that it meets matches that may still hold strays: its own net keeps its steps, what it misses
 * them by is taken up by a stiff one (iteratively reweighted least squares, as above).
 */
export function corrected(map: PhotoMap, matches: readonly Match[], limitsPx: readonly number[]): PhotoMap {
  const { from, net } = map;
  if (net === null) return map;
  const still = { from, to: from, homography: [1, 0, 0, 0, 1, 0, 0, 0, 1] } as const;
  let by: PhotoMap = { ...still, net: null };
  for (const limitPx of limitsPx) {
    const places = matches.flatMap((match) => {
      const [x, y] = mapThrough(map, match.from);
      const over: Point = [match.to[0] - x, match.to[1] - y];
      const share = tukey(
        missPx(by, { ...match, to: [match.from[0] + over[0], match.from[1] + over[1]] }),
        limitPx,
      );
      const [xx, xy, yy] = match.weight;
      return share > 0
        ? [{ at: match.from, overPx: over, weight: [share * xx, share * xy, share * yy] as const }]
        : [];
    });
    by = { ...still, net: netThrough(from, places) };
  }
  const shiftsPx = netNodes(from, net.columns, net.rows).map((at, node): Point => {
    const [[dx, dy], [x, y]] = [net.shiftsPx[node] ?? [0, 0], mapThrough(by, at)];
    return [dx + x - at[0], dy + y - at[1]];
  });
  return { ...map, net: { ...net, shiftsPx } };
}
