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
  netNodes,
  overlapOf,
  type PhotoMap,
  PICK_BY_HAND,
  type PictureSize,
  type Point,
  type PointPair,
  quantileOf,
  type RimScene,
  turnedAround,
} from '../../photo/index.ts';
import type { Cv } from './cv.ts';
import { epipolarThrough } from './epipolar.ts';
import { type Looked, look } from './features.ts';
import { corrected, mapThroughMatches, missPx, planeThrough } from './fitting.ts';
import { type Match, matchesOf } from './matches.ts';
import { FROM_FAR, FROM_NEAR, followSteps } from './parallax.ts';
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
  /** … and of those in the middle half of the first photo: there the zone is, beside it the floor may lie that many photos share. */
  middleShareMin: 0.12,
  /** Their median miss, px of the copies. */
  medianPxMax: 2,
  /** This share of them comes back to within this, px of the copies. */
  backPx: 6,
  backShareMin: 0.8,
  /** Standard deviation of their places across the direction in which they spread least, as a share of the longest side. */
  spreadMin: 0.03,
} as const;

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
const FINE_LIMITS_PX = [6, 4, 3];
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

interface Followed {
  readonly map: PhotoMap;
  readonly missed: readonly Missed[];
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

/** A map and what its patches miss it by when they are left out; refused unless they bear it out. */
function borneOut(forth: PhotoMap, start: PhotoMap, patches: readonly Patch[]): Result<Followed, Problem> {
  const missed = leftOut(start, found(patches)).filter(({ match }) => isKnownAt(forth, match.from));
  const map = { ...forth, back: turnedAround(forth) };
  return notBorneOut(map, patches, missed) ?? ok({ map, missed });
}

/**
 * What patches must say round a node for it to stay known: this share of those tried within `aroundPx` of the copies, and
 * so many of them, agree. Fewer than `triedMin` say nothing: the node stays as it was.
 */
interface Agreement {
  readonly aroundPx: number;
  readonly share: number;
  readonly least: number;
  readonly triedMin: number;
}
const FEATURES_AGREE: Agreement = { aroundPx: 45, share: 0.3, least: 3, triedMin: 0 };
const RIM_AGREES: Agreement = { aroundPx: 60, share: 0.12, least: 1, triedMin: 4 };

function knownWhereAgreed(
  map: PhotoMap,
  patches: readonly Patch[],
  { aroundPx, share, least, triedMin }: Agreement,
): PhotoMap {
  const { net, from } = map;
  if (net === null) return map;
  const agrees = patches.map(({ match }) => match !== null && missPx(map, match) < BORNE_OUT.patchPx);
  const known = netNodes(from, net.columns, net.rows).map(([x, y], node) => {
    if (net.known[node] !== true) return false;
    let [tried, agreed] = [0, 0];
    patches.forEach(({ at }, i) => {
      if (Math.hypot(at[0] - x, at[1] - y) > aroundPx) return;
      tried += 1;
      if (agrees[i] === true) agreed += 1;
    });
    return tried < triedMin || (agreed >= least && agreed >= share * tried);
  });
  return { ...map, net: { ...net, known: withoutHoles(known, net.columns) } };
}

/** Known neighbours from which a node between them counts as known too, of eight. */
const CLOSED_BY = 6;

function withoutHoles(known: readonly boolean[], columns: number): boolean[] {
  return known.map((one, node) => {
    if (one) return true;
    const x = node % columns;
    let around = 0;
    for (let dy = -1; dy <= 1; dy += 1)
      for (let dx = -1; dx <= 1; dx += 1)
        if (x + dx >= 0 && x + dx < columns && known[node + dy * columns + dx] === true) around += 1;
    return around >= CLOSED_BY;
  });
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

/** Every patch held against the map brought home by the other half of them. */
function leftOut(start: PhotoMap, patches: readonly Match[]): Missed[] {
  return [0, 1].flatMap((half) => {
    const map = corrected(
      start,
      patches.filter((_, i) => i % 2 !== half),
      FINE_LIMITS_PX,
    );
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
  if (shareInMiddle(map.from, patches, good) < BORNE_OUT.middleShareMin)
    return refused('middle', good.length, 'What both photos show lies beside the middle, such as the floor');
  if (median === null || median > BORNE_OUT.medianPxMax)
    return refused('error', median, 'Laid over each other the two photos stay apart');
  if (spreadOf(good) < BORNE_OUT.spreadMin * Math.max(map.from.widthPx, map.from.heightPx))
    return refused('spread', good.length, 'What both photos show lies on one line, such as along a tape');
  const places = good.map(({ from }) => from);
  const returned = places.filter((at) => {
    const back = mapBack(map, mapThrough(map, at));
    return back !== null && Math.hypot(back[0] - at[0], back[1] - at[1]) < BORNE_OUT.backPx;
  });
  const folds = returned.length < BORNE_OUT.backShareMin * places.length;
  return folds || !isPlausible({ ...map, net: null }, places)
    ? refused('shape', map.homography, 'Laid over each other one photo would be mirrored, folded or torn')
    : null;
}

/** Share of the patches tried in the middle half of the first photo that are found where the map says. */
function shareInMiddle(
  { widthPx, heightPx }: PictureSize,
  tried: readonly Patch[],
  good: readonly Match[],
): number {
  const inMiddle = ([x, y]: Point) =>
    Math.abs(x / widthPx - 0.5) < 0.25 && Math.abs(y / heightPx - 0.5) < 0.25;
  const count = tried.filter(({ at }) => inMiddle(at)).length;
  return count === 0 ? 0 : good.filter(({ from }) => inMiddle(from)).length / count;
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
