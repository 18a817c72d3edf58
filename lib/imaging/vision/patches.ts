import { mapThrough, type PhotoMap, type Point, warped } from '../../photo/index.ts';
import type { Cv, CvMat } from './cv.ts';
import type { Looked } from './features.ts';
import type { Match } from './matches.ts';

/** How patches of one photo are looked for in the other, laid over it. px of the copies. */
export interface PatchSearch {
  /** Half the side of a patch. */
  readonly halfPx: number;
  /** How far round the expected place it is looked for. */
  readonly reachPx: number;
  /** Distance of the patches from each other. */
  readonly stepPx: number;
}

/** A patch of the first photo, found again in the second one or not. */
export interface Patch {
  readonly at: Point;
  /** Null: nothing there looks like it clearly enough. */
  readonly match: Match | null;
  /** Correlation at the best place, −1 to 1. */
  readonly correlation: number;
}

/** Own choices. Least correlation that counts as found: below it chance finds as much. */
const CORRELATION_MIN = 0.55;
/** By so much the correlation must fall this far aside, or the patch does not fix that direction. */
const FALL_PX = 3;
const FALL_WHOLE = 0.12;
const FALL_MIN = 0.04;
/** A patch must vary by this at least (standard deviation of values 0 to 255). */
const CONTRAST_MIN = 7;

/**
 * Looks for patches of the first photo in the second one, laid over the first by a map that is nearly right. Patches on
 * scale cards, on even metal and where the second photo ends are not tried.
 */
export function patchesOf(
  cv: Cv,
  first: Looked,
  second: Looked,
  map: PhotoMap,
  search: PatchSearch,
): Patch[] {
  const { widthPx, heightPx } = first.picture;
  const laid = warped({ ...second.picture, channels: 1 }, map);
  const free = warped({ ...second.picture, values: second.usable, channels: 1 }, map).raster.values;
  const matOf = (values: Uint8Array | Uint8ClampedArray): CvMat => {
    const mat = new cv.Mat(heightPx, widthPx, cv.CV_8UC1);
    mat.data.set(values);
    return mat;
  };
  const [one, other] = [matOf(first.picture.values), matOf(laid.raster.values)];
  const found: Patch[] = [];
  const margin = search.halfPx + search.reachPx;
  const corners = [
    [-margin, -margin],
    [margin, -margin],
    [-margin, margin],
    [margin, margin],
    [0, 0],
  ] as const;
  for (let y = margin; y < heightPx - margin; y += search.stepPx) {
    for (let x = margin; x < widthPx - margin; x += search.stepPx) {
      const open = corners.every(([dx, dy]) => {
        const pixel = (y + dy) * widthPx + x + dx;
        return laid.inside[pixel] === 1 && free[pixel] === 255 && first.usable[pixel] === 255;
      });
      if (!open || contrastAt(first, x, y, search.halfPx) < CONTRAST_MIN) continue;
      found.push(sought(cv, one, other, map, [x, y], search));
    }
  }
  for (const mat of [one, other]) mat.delete();
  return found;
}

function contrastAt({ picture: { widthPx, values } }: Looked, x: number, y: number, half: number): number {
  let [sum, squares, count] = [0, 0, 0];
  for (let v = y - half; v <= y + half; v += 2)
    for (let u = x - half; u <= x + half; u += 2) {
      const value = values[v * widthPx + u] ?? 0;
      sum += value;
      squares += value * value;
      count += 1;
    }
  return Math.sqrt(Math.max(0, squares / count - (sum / count) ** 2));
}

function sought(
  cv: Cv,
  one: CvMat,
  other: CvMat,
  map: PhotoMap,
  [x, y]: Point,
  { halfPx, reachPx }: PatchSearch,
): Patch {
  const side = 2 * halfPx + 1;
  const part = one.roi(new cv.Rect(x - halfPx, y - halfPx, side, side));
  const field = other.roi(
    new cv.Rect(x - halfPx - reachPx, y - halfPx - reachPx, side + 2 * reachPx, side + 2 * reachPx),
  );
  const answer = new cv.Mat();
  cv.matchTemplate(field, part, answer, cv.TM_CCOEFF_NORMED);
  const peak = peakOf(answer.data32F, 2 * reachPx + 1);
  for (const mat of [part, field, answer]) mat.delete();
  const at: Point = [x, y];
  if (peak.at === null) return { at, match: null, correlation: peak.correlation };
  const there: Point = [x + peak.at[0] - reachPx, y + peak.at[1] - reachPx];
  const weight = turnedWeight(map, there, peak.weight);
  return { at, match: { from: at, to: mapThrough(map, there), weight }, correlation: peak.correlation };
}

interface Peak {
  readonly at: Point | null;
  readonly correlation: number;
  /** How steeply the correlation falls round it, in the first picture’s directions. */
  readonly weight: Match['weight'];
}

/** The highest place of a square of correlations, between its pixels; null where it is low, at the edge, or flat. */
function peakOf(values: Float32Array, side: number): Peak {
  let best = 0;
  for (let i = 1; i < values.length; i += 1) if ((values[i] ?? -1) > (values[best] ?? -1)) best = i;
  const [x, y] = [best % side, Math.floor(best / side)];
  const of = (dx: number, dy: number) => values[(y + dy) * side + x + dx] ?? -1;
  const correlation = of(0, 0);
  const room = x >= FALL_PX && y >= FALL_PX && x < side - FALL_PX && y < side - FALL_PX;
  const weight = room ? weightOf((dx, dy) => correlation - of(dx, dy)) : null;
  if (!(correlation >= CORRELATION_MIN) || weight === null)
    return { at: null, correlation, weight: [0, 0, 0] };
  return {
    at: [x + vertexOf(of(-1, 0), correlation, of(1, 0)), y + vertexOf(of(0, -1), correlation, of(0, 1))],
    correlation,
    weight,
  };
}

/** Falls of the correlation in four directions as a symmetric 2 × 2 weight, its larger part at most 1; null where flat. */
function weightOf(fall: (dx: number, dy: number) => number): Match['weight'] | null {
  const both = (dx: number, dy: number) => Math.max(0, Math.min(fall(dx, dy), fall(-dx, -dy)));
  const [xx, yy] = [both(FALL_PX, 0), both(0, FALL_PX)];
  // Two px along each of both axes are 2√2 px aslant; the fall grows with the square of the way.
  const most = Math.sqrt(xx * yy);
  const xy = Math.min(most, Math.max(-most, ((both(2, 2) - both(2, -2)) * FALL_PX ** 2) / 16));
  const larger = (xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy);
  if (larger < FALL_MIN) return null;
  const factor = 1 / Math.max(larger, FALL_WHOLE);
  return [xx * factor, xy * factor, yy * factor];
}

/** A weight of the first picture’s directions in those of the second: W′ = J⁻ᵀ W J⁻¹. */
function turnedWeight(map: PhotoMap, [x, y]: Point, [xx, xy, yy]: Match['weight']): Match['weight'] {
  const [o, r, d] = [mapThrough(map, [x, y]), mapThrough(map, [x + 1, y]), mapThrough(map, [x, y + 1])];
  const [a, b, c, e] = [r[0] - o[0], d[0] - o[0], r[1] - o[1], d[1] - o[1]];
  const det = a * e - b * c;
  // Rows of the inverse.
  const [p, q, s, t] = [e / det, -b / det, -c / det, a / det];
  return [
    p * p * xx + 2 * p * s * xy + s * s * yy,
    p * q * xx + (p * t + q * s) * xy + s * t * yy,
    q * q * xx + 2 * q * t * xy + t * t * yy,
  ];
}

/** Where a parabola through three neighbours is highest, from the middle one. */
function vertexOf(before: number, here: number, after: number): number {
  const bend = before - 2 * here + after;
  return bend < 0 ? Math.min(0.5, Math.max(-0.5, (before - after) / (2 * bend))) : 0;
}
