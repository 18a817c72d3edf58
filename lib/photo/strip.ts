import type { GreyPicture } from './grey.ts';
import type { Point } from './homography.ts';
import type { StripPixel } from './openingFit.ts';

/** A place on a trace. */
export interface Station {
  readonly at: Point;
  /** Along the trace, unit vector. */
  readonly along: Point;
  /** Way from the start of the trace, px. */
  readonly wayPx: number;
}

/** Half of the piece of trace whose chord gives the direction, px: picked points wobble. */
const CHORD_HALF_PX = 4;

/** Places every `everyPx` along a trace, at most `most`, half a step in from its ends. */
export function stationsOn(trace: readonly Point[], everyPx: number, most: number): Station[] {
  const ways = [0];
  for (const [i, [x, y]] of trace.slice(1).entries()) {
    const [px, py] = trace[i] ?? [x, y];
    ways.push((ways[i] ?? 0) + Math.hypot(x - px, y - py));
  }
  const whole = ways.at(-1) ?? 0;
  const pointAt = (way: number): Point => {
    const after = Math.max(
      1,
      ways.findIndex((one) => one >= way),
    );
    const [from, to] = [trace[after - 1] ?? [0, 0], trace[after] ?? [0, 0]];
    const [start, end] = [ways[after - 1] ?? 0, ways[after] ?? 0];
    const share = end > start ? (way - start) / (end - start) : 0;
    return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
  };
  const count = Math.min(most, Math.floor(whole / everyPx));
  return Array.from({ length: count }, (_, i) => {
    const wayPx = (i + 0.5) * (whole / count);
    const a = pointAt(Math.max(0, wayPx - CHORD_HALF_PX));
    const b = pointAt(Math.min(whole, wayPx + CHORD_HALF_PX));
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along: Point = length > 0 ? [(b[0] - a[0]) / length, (b[1] - a[1]) / length] : [1, 0];
    return { at: pointAt(wayPx), along, wayPx };
  });
}

/** Standard deviation of the Gaussian that averages along the crack, px. */
const ALONG_PX = 1;

/** Pixels within `reachPx` across a station, weighted along the trace; null where the strip leaves the picture. */
export function stripAt(
  picture: GreyPicture,
  { at, along }: Station,
  reachPx: number,
  light: Float64Array,
): StripPixel[] | null {
  const [dx, dy] = along;
  const wide = 3 * ALONG_PX;
  const halfX = Math.abs(dy) * reachPx + Math.abs(dx) * wide;
  const halfY = Math.abs(dx) * reachPx + Math.abs(dy) * wide;
  const [left, right] = [Math.ceil(at[0] - halfX), Math.floor(at[0] + halfX)];
  const [top, bottom] = [Math.ceil(at[1] - halfY), Math.floor(at[1] + halfY)];
  if (left < 0 || top < 0 || right > picture.widthPx - 1 || bottom > picture.heightPx - 1) return null;
  const found: StripPixel[] = [];
  for (let y = top; y <= bottom; y += 1) {
    for (let x = left; x <= right; x += 1) {
      const across = (y - at[1]) * dx - (x - at[0]) * dy;
      const beside = (x - at[0]) * dx + (y - at[1]) * dy;
      if (Math.abs(across) > reachPx || Math.abs(beside) > wide) continue;
      const weight = Math.exp(-0.5 * (beside / ALONG_PX) ** 2);
      found.push({ across, light: light[picture.values[y * picture.widthPx + x] ?? 0] ?? 0, weight });
    }
  }
  return found;
}

const STEP_PX = 0.5;
const SMOOTH_PX = 0.6;

/** A first guess of a dark line: its middle, and its width between the steepest places on both sides. */
export interface RoughDip {
  readonly centre: number;
  readonly width: number;
}

/** A change of light counts as a side of the line from this share of the steepest on the same side. Own choice. */
const SIDE_SHARE = 0.5;

/**
 * First steep place outwards from a minimum: the first local extremum of the slope that is at least half as steep as the
 * steepest on this side. Shade and rust beside a crack rise more gently, or further out. Null where nothing rises.
 */
function sideFrom(profile: readonly number[], minimum: number, way: 1 | -1): number | null {
  const rise = (i: number) => (profile[i + way] ?? Number.NaN) - (profile[i] ?? Number.NaN);
  const rises: number[] = [];
  for (let i = minimum; i + way >= 0 && i + way < profile.length; i += way) rises.push(rise(i));
  const steepest = Math.max(0, ...rises);
  const first = rises.findIndex(
    (one, k) =>
      one > 0 && one >= SIDE_SHARE * steepest && one >= (rises[k - 1] ?? 0) && one > (rises[k + 1] ?? 0),
  );
  return first < 0 ? null : minimum + way * (first + 0.5);
}

/**
 * The darkest line within `searchPx` of the middle of a strip: from the darkest local minimum of the smoothed profile
 * to the first steep place on both sides. Null where there is no minimum, or a side never rises.
 */
export function roughDip(strip: readonly StripPixel[], reachPx: number, searchPx: number): RoughDip | null {
  const count = Math.floor(reachPx / STEP_PX);
  const places = Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * STEP_PX);
  const profile = places.map((place) => {
    let [sum, weights] = [0, 0];
    for (const { across, light, weight } of strip) {
      const w = weight * Math.exp(-0.5 * ((across - place) / SMOOTH_PX) ** 2);
      sum += w * light;
      weights += w;
    }
    return sum / weights;
  });
  let darkest: number | null = null;
  for (let i = 1; i < profile.length - 1; i += 1) {
    const here = profile[i] ?? 0;
    const minimum = here <= (profile[i - 1] ?? 0) && here <= (profile[i + 1] ?? 0);
    if (!minimum || Math.abs(places[i] ?? 0) > searchPx) continue;
    if (darkest === null || here < (profile[darkest] ?? 0)) darkest = i;
  }
  if (darkest === null) return null;
  const [left, right] = [sideFrom(profile, darkest, -1), sideFrom(profile, darkest, 1)];
  if (left === null || right === null) return null;
  const middle = (left + right) / 2;
  return { centre: (middle - count) * STEP_PX, width: (right - left) * STEP_PX };
}
