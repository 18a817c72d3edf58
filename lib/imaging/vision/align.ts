import { ok, type Problem, type Result } from '../../base/index.ts';
import {
  type Alignment,
  alignOnRim,
  type GreyPicture,
  mapAtSize,
  overlapOf,
  type PhotoMap,
  type PictureSize,
  type Point,
  type PointPair,
  quantileOf,
  type RimScene,
} from '../../photo/index.ts';
import {
  BORNE_OUT,
  borneOut,
  FEATURES_AGREE,
  FINE_LIMITS_PX,
  type Followed,
  found,
  knownWhereAgreed,
  RIM_AGREES,
  refused,
} from './borneOut.ts';
import type { Cv } from './cv.ts';
import { epipolarThrough } from './epipolar.ts';
import { type Looked, look } from './features.ts';
import { corrected, mapThroughMatches, missPx, planeThrough } from './fitting.ts';
import { type Match, matchesOf } from './matches.ts';
import { FROM_FAR, FROM_NEAR, followSteps } from './parallax.ts';
import { patchesOf } from './patches.ts';

/**
 * Own choices, px of the copies: how near the plane of the first look passes by its matches; how patches are looked for at
 * each stage; by how much the last map may miss a place that still has a say (Tukey), one limit after the other.
 */
const PLANE_PX = 10;
const FIRST_LIMITS_PX = [80, 40, 20, 12];
const COARSE = { halfPx: 28, reachPx: 20, stepPx: 40 };
const COARSE_LIMITS_PX = [16, 8, 5, 4];
const FINE = { halfPx: 14, reachPx: 6, stepPx: 20 };
const WIDE = { halfPx: 16, reachPx: 12, stepPx: 24 };
const WIDE_LIMITS_PX = [10, 6, 4, 3];
const BETWEEN = { halfPx: 14, reachPx: 8, stepPx: 24 };
/** Patches from which on their lines are better than those of the first places. */
const BETTER_MIN = 60;
const isSureBothWays = ({ weight: [xx, , yy] }: Match) => Math.min(xx, yy) > 0.25;

/**
 * Lays two photos of one place over each other by what both show: places found again (AKAZE features whose neighbours
 * moved alike), a plane through most of them, a net for what is round, a search along epipolar lines for what is stepped,
 * then patches matched by correlation. How far it is off is told by patches that were left out of it. Where the record
 * tells how both photos’ rims stand, it goes over their surface instead, if that agrees with the places. The pictures may
 * be smaller copies: `sizes` are those of the originals. Scale cards are left out, as they lie elsewhere each time.
 * Refused unless borne out: two photos of different places have next to nothing in common.
 */
export function alignPhotos(
  cv: Cv,
  first: GreyPicture,
  second: GreyPicture,
  rims: RimScenes | null = null,
  sizes: readonly [PictureSize, PictureSize] = [first, second],
): Result<Alignment, Problem> {
  const one = look(cv, first);
  const other = look(cv, second);
  try {
    return alignLooked(cv, one, other, ...sizes, rims);
  } finally {
    one.forget();
    other.forget();
  }
}

/** What the record says of the rim in the first and in the second photo, in px of the originals. */
export type RimScenes = readonly [RimScene, RimScene];

/** The same for photos that were looked at already. `from` and `to` are the sizes of the originals. */
export function alignLooked(
  cv: Cv,
  first: Looked,
  second: Looked,
  from: PictureSize,
  to: PictureSize,
  rims: RimScenes | null = null,
): Result<Alignment, Problem> {
  const matches = matchesOf(cv, first, second);
  if (matches.length < BORNE_OUT.matchesMin) {
    return refused('matches', matches.length, 'Too few places of one photo are found again in the other');
  }
  const sizes = { from: sizeOf(first.picture), to: sizeOf(second.picture) };
  const [factorFrom, factorTo] = [sizes.from.widthPx / from.widthPx, sizes.to.widthPx / to.widthPx];
  const sized = () => matches.map((match) => atOriginal(match, factorFrom, factorTo));
  const onRim = rims === null ? null : alignOnRim(...rims, sizeOf(from), sizeOf(to), sized());
  if (onRim?.ok) {
    const laid = broughtHome(cv, first, second, mapAtSize(onRim.value.map, sizes.from, sizes.to));
    if (!laid.ok) return onRim;
    return ok({ ...atSize(laid.value, factorTo, from, to), method: 'rim surface' });
  }
  const rough = smoothMap(cv, first, second, matches);
  if (rough === null) return refused('plane', matches.length, 'The places found again do not fit together');
  const laid = followed(cv, first, second, matches, rough);
  if (!laid.ok) return laid;
  return ok({ ...atSize(laid.value, factorTo, from, to), method: 'features' });
}

/**
 * A map by the rim’s surface, brought home by patches: what the section does not know of, wear and the height of welds, is
 * taken up smoothly. Refused unless the patches bear it out.
 */
function broughtHome(cv: Cv, first: Looked, second: Looked, onRim: PhotoMap): Result<Followed, Problem> {
  const near = corrected(onRim, found(patchesOf(cv, first, second, onRim, WIDE)), WIDE_LIMITS_PX);
  const patches = patchesOf(cv, first, second, near, FINE);
  const forth = knownWhereAgreed(corrected(near, found(patches), FINE_LIMITS_PX), patches, RIM_AGREES);
  return borneOut(forth, near, patches);
}

/** A plane and a smooth net through what both photos show: right but at steps. */
function smoothMap(cv: Cv, first: Looked, second: Looked, matches: readonly Match[]): PhotoMap | null {
  const plane = planeThrough(cv, matches, PLANE_PX);
  if (plane === null) return null;
  const sizes = { from: sizeOf(first.picture), to: sizeOf(second.picture) };
  const start = { ...sizes, homography: plane.homography, net: null };
  const rough = mapThroughMatches(sizes, start, matches, FIRST_LIMITS_PX);
  const coarse = found(patchesOf(cv, first, second, rough, COARSE));
  return mapThroughMatches(sizes, rough, [...matches, ...coarse], COARSE_LIMITS_PX);
}

/** A map that is nearly right, made to follow steps and brought home by patches; refused unless those bear it out. */
function followed(
  cv: Cv,
  first: Looked,
  second: Looked,
  matches: readonly Match[],
  rough: PhotoMap,
): Result<Followed, Problem> {
  const start = stepped(cv, first, second, matches, rough);
  const patches = patchesOf(cv, first, second, start, FINE);
  const forth = knownWhereAgreed(corrected(start, found(patches), FINE_LIMITS_PX), patches, FEATURES_AGREE);
  return borneOut(forth, start, patches);
}

/** Steps are followed from far, then, with lines that patches found by then tell better, from near. */
function stepped(
  cv: Cv,
  first: Looked,
  second: Looked,
  matches: readonly Match[],
  rough: PhotoMap,
): PhotoMap {
  const lines = epipolarThrough(matches);
  if (lines === null) return rough;
  const far = followSteps(first, second, rough, lines, FROM_FAR);
  const seen = found(patchesOf(cv, first, second, far, BETWEEN));
  const near = corrected(far, seen, FINE_LIMITS_PX);
  const sure = seen.filter((match) => isSureBothWays(match) && missPx(near, match) < BORNE_OUT.patchPx);
  const better = sure.length < BETTER_MIN ? lines : (epipolarThrough(sure) ?? lines);
  return followSteps(first, second, near, better, FROM_NEAR);
}

function atOriginal({ from, to }: Match, factorFrom: number, factorTo: number): PointPair {
  const back = ([x, y]: Point, factor: number): Point => [(x + 0.5) / factor - 0.5, (y + 0.5) / factor - 0.5];
  return { from: back(from, factorFrom), to: back(to, factorTo) };
}

const sizeOf = ({ widthPx, heightPx }: PictureSize): PictureSize => ({ widthPx, heightPx });
/** From the copies to the originals. */
function atSize(
  { map, missed }: Followed,
  factorTo: number,
  from: PictureSize,
  to: PictureSize,
): Omit<Alignment, 'method'> {
  const whole = mapAtSize(map, sizeOf(from), sizeOf(to));
  const px = missed.map((one) => one.px / factorTo);
  return {
    map: whole,
    medianPx: quantileOf(px, 0.5),
    p95Px: quantileOf(px, 0.95),
    inliers: missed.filter((one) => one.px < BORNE_OUT.patchPx).length,
    overlapShare: overlapOf(whole),
  };
}
