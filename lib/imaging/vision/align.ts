import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import {
  type Alignment,
  alignOnRim,
  type GreyPicture,
  isKnownAt,
  isPlausible,
  mapAtSize,
  mapBack,
  mapThrough,
  overlapOf,
  type PhotoMap,
  PICK_BY_HAND,
  type PictureSize,
  type Point,
  type PointPair,
  quantileOf,
  type RimScene,
} from '../../photo/index.ts';
import type { Cv } from './cv.ts';
import { type Looked, look } from './features.ts';
import { mapThroughMatches, missPx, planeThrough } from './fitting.ts';
import { type Match, matchesOf } from './matches.ts';
import { type Patch, patchesOf } from './patches.ts';

/** What an alignment must bear out before it is shown. Own choices; see bench/alignment.ts for what they let through. */
export const BORNE_OUT = {
  /** Places found again, with neighbours that moved alike. */
  matchesMin: 20,
  /** Patches found where a map through the others says they are, to within this, px of the copies. */
  patchPx: 2.5,
  patchesMin: 40,
  /** … as a share of all patches with contrast where the map says something. */
  patchShareMin: 0.13,
  /** Their median miss, px of the copies. */
  medianPxMax: 2,
  /** Standard deviation of their places across the direction in which they spread least, as a share of the longest side. */
  spreadMin: 0.03,
} as const;

/** How near the plane of the first look passes by its matches, px of the copies. */
const PLANE_PX = 10;
const FIRST_LIMITS_PX = [80, 40, 20, 12];
const COARSE = { halfPx: 28, reachPx: 20, stepPx: 40 };
const COARSE_LIMITS_PX = [16, 8, 5, 4];
const FINE = { halfPx: 20, reachPx: 9, stepPx: 32 };
const FINE_LIMITS_PX = [6, 4, 3, 3];

/**
 * Lays two photos of one place over each other by what both show: places found again (AKAZE features whose neighbours
 * moved alike), a plane through most of them, a net for what is round, then patches matched by correlation. How far it is
 * off is told by patches that were left out of it. Where the record tells how both photos’ rims stand, it goes over their
 * surface instead, if that agrees with the places. The pictures may be smaller copies: `sizes` are those of the originals. Scale cards are left out, as they lie elsewhere each time. Refused
 * unless borne out: two photos of different places have next to nothing in common.
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
  if (rims !== null) {
    const sized = matches.map((match) =>
      atOriginal(match, first.picture.widthPx / from.widthPx, second.picture.widthPx / to.widthPx),
    );
    const onRim = alignOnRim(...rims, sizeOf(from), sizeOf(to), sized);
    if (onRim.ok) return onRim;
  }
  const plane = planeThrough(cv, matches, PLANE_PX);
  if (plane === null) return refused('plane', matches.length, 'The places found again do not fit together');
  const sizes = { from: sizeOf(first.picture), to: sizeOf(second.picture) };
  const rough = mapThroughMatches(
    sizes,
    { ...sizes, homography: plane.homography, net: null },
    matches,
    FIRST_LIMITS_PX,
  );
  const coarse = found(patchesOf(cv, first, second, rough, COARSE));
  const better = mapThroughMatches(sizes, rough, [...matches, ...coarse], COARSE_LIMITS_PX);
  const patches = patchesOf(cv, first, second, better, FINE);
  const map = mapThroughMatches(sizes, better, [...matches, ...found(patches)], FINE_LIMITS_PX);
  const missed = leftOut(sizes, better, matches, found(patches));
  const problemSeen = notBorneOut(map, patches, missed);
  if (problemSeen !== null) return problemSeen;
  return ok(atSize(map, missed, second.picture.widthPx / to.widthPx, from, to));
}

function atOriginal({ from, to }: Match, factorFrom: number, factorTo: number): PointPair {
  const back = ([x, y]: Point, factor: number): Point => [(x + 0.5) / factor - 0.5, (y + 0.5) / factor - 0.5];
  return { from: back(from, factorFrom), to: back(to, factorTo) };
}

const sizeOf = ({ widthPx, heightPx }: PictureSize): PictureSize => ({ widthPx, heightPx });
const found = (patches: readonly Patch[]): Match[] =>
  patches.flatMap(({ match }) => (match === null ? [] : [match]));

interface Missed {
  readonly match: Match;
  readonly px: number;
}

/** Every patch held against a map through the other half of them. */
function leftOut(
  sizes: { readonly from: PictureSize; readonly to: PictureSize },
  start: PhotoMap,
  matches: readonly Match[],
  patches: readonly Match[],
): Missed[] {
  return [0, 1].flatMap((half) => {
    const others = patches.filter((_, i) => i % 2 !== half);
    const map = mapThroughMatches(sizes, start, [...matches, ...others], FINE_LIMITS_PX);
    return patches
      .filter((_, i) => i % 2 === half)
      .map((match): Missed => ({ match, px: missPx(map, match) }));
  });
}

function notBorneOut(
  map: PhotoMap,
  patches: readonly Patch[],
  missed: readonly Missed[],
): Result<never, Problem> | null {
  const good = missed.filter(({ px }) => px < BORNE_OUT.patchPx).map(({ match }) => match);
  const known = patches.filter(({ at }) => isKnownAt(map, at));
  const median =
    missed.length === 0
      ? null
      : quantileOf(
          missed.map(({ px }) => px),
          0.5,
        );
  if (good.length < BORNE_OUT.patchesMin || good.length < BORNE_OUT.patchShareMin * known.length)
    return refused('agreement', good.length, 'Laid over each other the two photos do not show the same');
  if (median === null || median > BORNE_OUT.medianPxMax)
    return refused('error', median, 'Laid over each other the two photos stay apart');
  if (spreadOf(good) < BORNE_OUT.spreadMin * Math.max(map.from.widthPx, map.from.heightPx))
    return refused('spread', good.length, 'What both photos show lies on one line, such as along a tape');
  const places = good.map(({ from }) => from);
  const folds = places.some((at) => {
    const back = mapBack(map, mapThrough(map, at));
    return back === null || Math.hypot(back[0] - at[0], back[1] - at[1]) > 1;
  });
  return folds || !isPlausible({ ...map, net: null }, places)
    ? refused('shape', map.homography, 'Laid over each other one photo would be mirrored, folded or torn')
    : null;
}

function refused(what: string, value: unknown, message: string): Result<never, Problem> {
  return fail(problem(`alignment-${what}`, what, value, message, PICK_BY_HAND));
}

/** Standard deviation of places across the direction in which they spread least, px. */
function spreadOf(matches: readonly Match[]): number {
  const n = matches.length;
  const mean = (of: (match: Match) => number) => matches.reduce((sum, match) => sum + of(match), 0) / n;
  const [mx, my] = [mean(({ from }) => from[0]), mean(({ from }) => from[1])];
  const xx = mean(({ from }) => (from[0] - mx) ** 2);
  const yy = mean(({ from }) => (from[1] - my) ** 2);
  const xy = mean(({ from }) => (from[0] - mx) * (from[1] - my));
  return Math.sqrt(Math.max(0, (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy)));
}

/** From the copies to the originals. */
function atSize(
  map: PhotoMap,
  missed: readonly Missed[],
  factorTo: number,
  from: PictureSize,
  to: PictureSize,
): Alignment {
  const whole = mapAtSize(map, sizeOf(from), sizeOf(to));
  const px = missed.map((one) => one.px / factorTo);
  return {
    map: whole,
    method: 'features',
    medianPx: quantileOf(px, 0.5),
    p95Px: quantileOf(px, 0.95),
    inliers: missed.filter((one) => one.px < BORNE_OUT.patchPx).length,
    overlapShare: overlapOf(whole),
  };
}
