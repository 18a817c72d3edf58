import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import {
  isKnownAt,
  isPlausible,
  mapBack,
  mapThrough,
  netNodes,
  type PhotoMap,
  PICK_BY_HAND,
  type PictureSize,
  type Point,
  quantileOf,
  turnedAround,
} from '../../photo/index.ts';
import { corrected, missPx } from './fitting.ts';
import type { Match } from './matches.ts';
import type { Patch } from './patches.ts';

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

/** By how much the last map may miss a place that still has a say (Tukey), one limit after the other, px of the copies. */
export const FINE_LIMITS_PX = [6, 4, 3];

export const found = (patches: readonly Patch[]): Match[] =>
  patches.flatMap(({ match }) => (match === null ? [] : [match]));

export interface Followed {
  readonly map: PhotoMap;
  readonly missed: readonly Missed[];
}

/** A map and what its patches miss it by when they are left out; refused unless they bear it out. */
export function borneOut(
  forth: PhotoMap,
  start: PhotoMap,
  patches: readonly Patch[],
): Result<Followed, Problem> {
  const missed = leftOut(start, found(patches)).filter(({ match }) => isKnownAt(forth, match.from));
  const map = { ...forth, back: turnedAround(forth) };
  return notBorneOut(map, patches, missed) ?? ok({ map, missed });
}

/**
 * What patches must say round a node for it to stay known: this share of those tried within `aroundPx` of the copies, and
 * so many of them, agree. Fewer than `triedMin` say nothing: the node stays as it was.
 */
export interface Agreement {
  readonly aroundPx: number;
  readonly share: number;
  readonly least: number;
  readonly triedMin: number;
}
export const FEATURES_AGREE: Agreement = { aroundPx: 45, share: 0.3, least: 3, triedMin: 0 };
export const RIM_AGREES: Agreement = { aroundPx: 60, share: 0.12, least: 1, triedMin: 4 };

export function knownWhereAgreed(
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

export interface Missed {
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

export function refused(what: string, value: unknown, message: string): Result<never, Problem> {
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
