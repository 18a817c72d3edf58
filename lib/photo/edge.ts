import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type EdgeProfile, edgeProfile, PLACE_STEP_PX } from './edgeProfile.ts';
import { checkPicture, type Encoding, type GreyPicture, lightTable, medianOf, spreadOf } from './grey.ts';
import type { Point } from './homography.ts';

/** How an edge is looked for; every field has a default. */
export interface EdgeSearch {
  /** How far from the point, px. Default 8. */
  readonly radiusPx?: number;
  /** Gaussian smoothing along the line, px, 1 or more. Default 1. */
  readonly smoothPx?: number;
  /** Gaussian averaging along the edge, standard deviation in px, 1 or more: a few parallel lines. Default 2. */
  readonly bandPx?: number;
  /** Which way the light changes along the direction. Default `any`. */
  readonly turns?: 'any' | 'to light' | 'to dark';
  /** The gradient must be this many times its noise and texture. Default 5. */
  readonly strengthMin?: number;
  /** A second edge of this share of the strongest makes the point doubtful. Default 0.7. */
  readonly alikeShare?: number;
  /** Default `sRGB`. */
  readonly encoding?: Encoding;
}

/** A point pulled to an edge. */
export interface EdgeSnap {
  readonly at: Point;
  /** Unit vector along which it was moved. */
  readonly direction: Point;
  /** How far along the direction, px; negative: backwards. */
  readonly shiftPx: number;
  /** Difference of light across the edge, of 255; positive where it gets lighter ahead. */
  readonly contrast: number;
  /** How far the gradient at the edge stands out from that beyond it, in multiples of its noise and texture. */
  readonly strength: number;
  /** Blur of the edge in the picture, standard deviation of a Gaussian, px. */
  readonly blurPx: number;
  /** Standard uncertainty of the position along the direction, px; 0.05 or more. */
  readonly uPx: number;
}

/**
 * Least standard uncertainty of an edge, px. Own choice: unevenness of pixels, JPEG and the ragged metal itself move an
 * edge by some hundredths of a pixel however little noise there is.
 */
const U_MIN_PX = 0.05;

const DEFAULTS = {
  radiusPx: 8,
  smoothPx: 1,
  bandPx: 2,
  turns: 'any',
  strengthMin: 5,
  alikeShare: 0.7,
  encoding: 'sRGB',
} as const satisfies Required<EdgeSearch>;

const refused = (code: string, field: string, at: Point, message: string, wayOut: string) =>
  fail(problem(code, field, at, message, wayOut));

function checkSearch(search: Required<EdgeSearch>): Problem | null {
  const least = { radiusPx: 1, smoothPx: 1, bandPx: 1, strengthMin: 0, alikeShare: 0 } as const;
  for (const [field, min] of Object.entries(least) as [keyof typeof least, number][]) {
    if (!(Number.isFinite(search[field]) && search[field] >= min)) {
      return problem(
        'edge-search',
        field,
        search[field],
        `A search needs ${min} or more here`,
        'Leave it out.',
      );
    }
  }
  return null;
}

/** Local extrema of the gradient, largest first, as places in the profile. */
function extrema({ gradients, places }: EdgeProfile, search: Required<EdgeSearch>): number[] {
  const signed = (i: number) => {
    const g = gradients[i] ?? 0;
    return search.turns === 'any' ? Math.abs(g) : search.turns === 'to light' ? g : -g;
  };
  const found: number[] = [];
  for (let i = 1; i < gradients.length - 1; i += 1) {
    const inside = Math.abs(places[i] ?? Number.POSITIVE_INFINITY) <= search.radiusPx;
    if (inside && signed(i) > 0 && signed(i) >= signed(i - 1) && signed(i) > signed(i + 1)) found.push(i);
  }
  return found.sort((a, b) => signed(b) - signed(a));
}

/** First and last place of the lobe round an extremum where the gradient is above half of it; null where it never falls. */
function lobe(gradients: readonly number[], peak: number): readonly [number, number] | null {
  const half = (gradients[peak] ?? 0) / 2;
  const above = (i: number) => (half > 0 ? (gradients[i] ?? 0) > half : (gradients[i] ?? 0) < half);
  let [first, last] = [peak, peak];
  while (first > 0 && above(first - 1)) first -= 1;
  while (last < gradients.length - 1 && above(last + 1)) last += 1;
  return first === 0 || last === gradients.length - 1 ? null : [first, last];
}

/** The edge of a profile, or why there is none. */
function edgeOf(
  profile: EdgeProfile,
  search: Required<EdgeSearch>,
  field: string,
  at: Point,
): Result<Omit<EdgeSnap, 'at' | 'direction'>, Problem> {
  const { gradients, places, gradientU, slopeU } = profile;
  const [peak, next] = extrema(profile, search);
  const none = (why: string) =>
    refused('edge-none', field, at, `No clear edge near the point: ${why}`, 'Pick the point by eye.');
  if (peak === undefined) return none('the light does not change');
  const around = lobe(gradients, peak);
  if (around === null) return none('the light changes gradually over the whole search');
  const [before, top, after] = [gradients[peak - 1] ?? 0, gradients[peak] ?? 0, gradients[peak + 1] ?? 0];
  // Twice the half-width: what lies further away does not belong to this edge.
  const reach = around[1] - around[0];
  const beyond = gradients.filter((_, i) => Math.abs(i - peak) > reach);
  const spread = Math.max(gradientU, beyond.length === 0 ? 0 : spreadOf(beyond));
  // An even slope of light is no edge, however steep: the edge must stand out from it.
  const strength = Math.abs(top - (beyond.length === 0 ? 0 : medianOf(beyond))) / spread;
  if (strength < search.strengthMin) {
    return none(`its gradient is ${strength.toFixed(1)} times the noise, ${search.strengthMin} are needed`);
  }
  if (next !== undefined && Math.abs((gradients[next] ?? 0) / top) >= search.alikeShare) {
    return refused(
      'edge-two',
      field,
      at,
      `Two edges alike, ${Math.abs((places[next] ?? 0) - (places[peak] ?? 0)).toFixed(1)} px apart`,
      'Pick nearer to the one meant, or pick the point by eye.',
    );
  }
  const bend = (before - 2 * top + after) / PLACE_STEP_PX ** 2;
  const shiftPx = (places[peak] ?? 0) - (after - before) / (2 * PLACE_STEP_PX) / bend;
  // Light across an edge blurred by a Gaussian in all: the gradient is C/(√(2π) s) · exp(−x²/2s²), its bend −top/s².
  const whole = Math.sqrt(-top / bend);
  return ok({
    shiftPx,
    contrast: top * Math.sqrt(2 * Math.PI) * whole,
    strength,
    blurPx: Math.sqrt(Math.max(0, whole ** 2 - search.smoothPx ** 2)),
    uPx: Math.max(U_MIN_PX, (slopeU * (spread / gradientU)) / Math.abs(bend)),
  });
}

/**
 * Pulls a point to an edge along a direction of unit length, on a picture and search already checked; `field` names the
 * point in a refusal.
 *
 * The light is averaged over a few parallel lines and smoothed along them; the strongest extremum of its gradient
 * within `radiusPx` is refined by a parabola through it and its neighbours. Standard uncertainty: noise of the slope of
 * the gradient over its bend, where texture on the line beyond the edge counts as noise (JCGM 100:2008, 5.1.2); never
 * below 0.05 px. An edge that is bent within `bandPx`, or whose two sides are not blurred alike, is off by more.
 *
 * Refused with a reason: no edge within the radius whose gradient is `strengthMin` times its noise; two alike; too near
 * to the border.
 */
export function snapAlong(
  picture: GreyPicture,
  at: Point,
  direction: Point,
  search: Required<EdgeSearch>,
  field: string,
  light = lightTable(search.encoding),
): Result<EdgeSnap, Problem> {
  const { smoothPx, bandPx } = search;
  const reachPx = search.radiusPx + 3 * smoothPx;
  const profile = edgeProfile(picture, { at, direction, reachPx, smoothPx, bandPx }, light);
  if (profile.places.length < 2 * (smoothPx / PLACE_STEP_PX)) {
    return refused(
      'edge-border',
      field,
      at,
      'The point is too near to the border of the picture for an edge to be found',
      'Pick the point by eye, or take the picture again with more room round it.',
    );
  }
  const edge = edgeOf(profile, search, field, at);
  if (!edge.ok) return edge;
  const { shiftPx } = edge.value;
  return ok({
    ...edge.value,
    at: [at[0] + shiftPx * direction[0], at[1] + shiftPx * direction[1]],
    direction,
  });
}

/** The search with its defaults; fails as the functions that take it do. */
export function searchOf(picture: GreyPicture, search: EdgeSearch): Result<Required<EdgeSearch>, Problem> {
  const checked = checkPicture(picture);
  if (!checked.ok) return checked;
  const whole = { ...DEFAULTS, ...search };
  const wrong = checkSearch(whole);
  return wrong === null ? ok(whole) : fail(wrong);
}
