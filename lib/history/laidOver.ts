import { mapPoints, type PointPx, type Shape } from '../marks/index.ts';
import { isInside, isKnownAt, mapBack, mapThrough, type PhotoMap, type Point } from '../photo/index.ts';
import type { PhotosAligned } from '../record/index.ts';

/** Which way a mark is taken: from the first photo of a map to the second, or back. */
export type Way = 'forth' | 'back';

/** The map that an entry keeps. */
export function mapOfEntry({ from, to, homography, net, back }: PhotosAligned): PhotoMap {
  const nine = (values: readonly number[]) => values as unknown as PhotoMap['homography'];
  return {
    from,
    to,
    homography: nine(homography),
    net,
    back: back === null ? null : { homography: nine(back.homography), net: back.net },
  };
}

/** The other way round a way goes. */
export const otherWay = (way: Way): Way => (way === 'forth' ? 'back' : 'forth');

/** A point taken to the other photo, px; null where the map says nothing of it. */
export function takenOver(map: PhotoMap, at: Point, way: Way): PointPx | null {
  const there = way === 'forth' ? mapThrough(map, at) : mapBack(map, at);
  if (there === null || !Number.isFinite(there[0]) || !Number.isFinite(there[1])) return null;
  const first = way === 'forth' ? at : there;
  return isKnownAt(map, first) ? [there[0], there[1]] : null;
}

/** A shape as it lies on the other photo, and whether the other photo shows the place. */
export interface LaidOver {
  readonly shape: Shape;
  /** True where the shape lies in the other photo and the map says something of `SHOWN_SHARE` of its points. */
  readonly shown: boolean;
}

/** Of so many of a shape’s points something must be known; a few may lie where little is to be told by. Own choice. */
const SHOWN_SHARE = 2 / 3;

/**
 * A shape taken to the other photo, point by point. Where the map says nothing of a point, it goes with its neighbours. Null
 * where a point comes to lie nowhere.
 */
export function shapeOver(map: PhotoMap, shape: Shape, way: Way): LaidOver | null {
  let [points, known, beside, lost] = [0, 0, false, false];
  const other = way === 'forth' ? map.to : map.from;
  const moved = mapPoints(shape, (at) => {
    points += 1;
    const sure = takenOver(map, at, way);
    const over = sure ?? unsure(map, at, way);
    if (over === null) {
      lost = true;
      return at;
    }
    if (sure !== null) known += 1;
    if (!isInside(other, over)) beside = true;
    return over;
  });
  if (lost) return null;
  const shown = !beside && known >= SHOWN_SHARE * points;
  if (moved.form !== 'band' || shape.form !== 'band') return { shape: moved, shown };
  return {
    shape: { ...moved, widthPx: shape.widthPx * stretchOf(shape.centreLine, moved.centreLine) },
    shown,
  };
}

/** Beyond this a point is of no use on any photo, px. */
const FAR_PX = 90_000;

function unsure(map: PhotoMap, at: Point, way: Way): PointPx | null {
  const there = way === 'forth' ? mapThrough(map, at) : mapBack(map, at);
  if (there === null) return null;
  const [x, y] = there;
  return Math.abs(x) < FAR_PX && Math.abs(y) < FAR_PX ? [x, y] : null;
}

function stretchOf(before: readonly PointPx[], after: readonly PointPx[]): number {
  const length = (line: readonly PointPx[]) =>
    line.reduce((sum, [x, y], i) => {
      const last = line[i - 1];
      return last === undefined ? 0 : sum + Math.hypot(x - last[0], y - last[1]);
    }, 0);
  return length(before) > 0 ? length(after) / length(before) : 1;
}
