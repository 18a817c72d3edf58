import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type Homography, homographyFrom, mapPoint, middleOf, type Point } from './homography.ts';
import type { PhotoMap, PictureSize } from './photoMap.ts';
import { isPlausible, overlapOf } from './plausible.ts';

/** Two places, one on each photo, that show the same spot; px of the upright originals. */
export interface PointPair {
  readonly from: Point;
  readonly to: Point;
}

/** Two photos of one place laid over each other. */
export interface Alignment {
  readonly map: PhotoMap;
  readonly method: AlignmentMethod;
  /**
   * How far places that were not used for the map are missed, px of the second photo: the median and what 95 % of them stay
   * below. Null where nothing was left over to tell.
   */
  readonly medianPx: number | null;
  readonly p95Px: number | null;
  /** Places that agree with the map. */
  readonly inliers: number;
  /** Share of the first photo that is told to be found again in the second one, 0 to 1. */
  readonly overlapShare: number;
}

/** How two photos were laid over each other. */
export type AlignmentMethod = 'rim surface' | 'features' | 'three points' | 'four points';

/** The way out that every failed alignment offers. */
export const PICK_BY_HAND = 'Pick three or four points by hand that both photos show.';

/** Pairs that fix a map, and those that are kept at most. */
export const PAIRS_MIN = 3;
export const PAIRS_MAX = 20;

/**
 * Lays two photos over each other by pairs of points picked by hand: three give an affine map, four or more a homography.
 * With more than needed each pair is left out in turn, and the map through the others tells how far it is missed, where they
 * fix one. Fails
 * with fewer than three, with points on one line, and where the map mirrors or tears the photo.
 */
export function alignByPoints(
  from: PictureSize,
  to: PictureSize,
  pairs: readonly PointPair[],
): Result<Alignment, Problem> {
  if (pairs.length < PAIRS_MIN || pairs.length > PAIRS_MAX) {
    return fail(
      problem(
        'alignment-pairs',
        'points',
        pairs.length,
        `Photos are laid over each other by ${PAIRS_MIN} to ${PAIRS_MAX} pairs of points`,
        PICK_BY_HAND,
      ),
    );
  }
  const whole = mapOf(pairs);
  if (!whole.ok) return whole;
  const map: PhotoMap = { from, to, homography: whole.value, net: null };
  const placed = [...pairs.map((pair) => pair.from), middleOf(pairs.map((pair) => pair.from))];
  if (!isPlausible(map, placed)) {
    return fail(
      problem(
        'alignment-torn',
        'points',
        pairs,
        'These pairs would mirror or tear the photo, so at least one of them is not the same spot',
        'Look at each pair again; pick points far apart that lie about in one surface.',
      ),
    );
  }
  const missed = leftOutMisses(pairs);
  return ok({
    map,
    method: pairs.length === PAIRS_MIN ? 'three points' : 'four points',
    medianPx: missed.length === 0 ? null : quantileOf(missed, 0.5),
    p95Px: missed.length === 0 ? null : quantileOf(missed, 0.95),
    inliers: pairs.length,
    overlapShare: overlapOf(map),
  });
}

/** Of four points no three may lie so near one line, or the map through them says nothing of other places. */
const FOUR_MIN = 0.1;

const isSlim = (points: readonly Point[]) =>
  points.length === 4 && points.some((_, i) => slimness(points.filter((__, k) => k !== i)) < FOUR_MIN);

function leftOutMisses(pairs: readonly PointPair[]): number[] {
  if (pairs.length <= 4) return [];
  return pairs.flatMap((left) => {
    const kept = pairs.filter((pair) => pair !== left);
    if (isSlim(kept.map(({ from }) => from)) || isSlim(kept.map(({ to }) => to))) return [];
    const others = mapOf(kept);
    if (!others.ok) return [];
    const [x, y] = mapPoint(others.value, left.from);
    return [Math.hypot(x - left.to[0], y - left.to[1])];
  });
}

/** Smallest height of the triangle of three points against its longest side: below it they count as on one line. */
const TRIANGLE_MIN = 0.02;

function mapOf(pairs: readonly PointPair[]): Result<Homography, Problem> {
  const [from, to] = [pairs.map((pair) => pair.from), pairs.map((pair) => pair.to)];
  if (pairs.length > PAIRS_MIN) return homographyFrom(from, to);
  const thin = [from, to].some((points) => slimness(points) < TRIANGLE_MIN);
  if (thin) {
    return fail(
      problem(
        'alignment-line',
        'points',
        pairs,
        'The three points lie on one line',
        'Pick the third one well beside the line through the other two.',
      ),
    );
  }
  return ok(affineThrough(from, to));
}

function slimness([a, b, c]: readonly Point[]): number {
  if (a === undefined || b === undefined || c === undefined) return 0;
  const twice = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]));
  const longest = Math.max(
    Math.hypot(b[0] - a[0], b[1] - a[1]),
    Math.hypot(c[0] - b[0], c[1] - b[1]),
    Math.hypot(a[0] - c[0], a[1] - c[1]),
  );
  return longest === 0 ? 0 : twice / longest ** 2;
}

/** The affine map through three pairs, by Cramer's rule. */
function affineThrough(from: readonly Point[], to: readonly Point[]): Homography {
  const [[x0, y0], [x1, y1], [x2, y2]] = from as [Point, Point, Point];
  const det = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  const row = (k: 0 | 1): [number, number, number] => {
    const [v0, v1, v2] = to.map((point) => point[k]) as [number, number, number];
    const a = ((v1 - v0) * (y2 - y0) - (v2 - v0) * (y1 - y0)) / det;
    const b = ((v2 - v0) * (x1 - x0) - (v1 - v0) * (x2 - x0)) / det;
    return [a, b, v0 - a * x0 - b * y0];
  };
  return [...row(0), ...row(1), 0, 0, 1];
}

/** Quantile of a list that is not empty, linear between its members (Hyndman & Fan, type 7). */
export function quantileOf(list: readonly number[], share: number): number {
  const sorted = [...list].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const low = sorted[Math.floor(at)] ?? 0;
  return low + (at - Math.floor(at)) * ((sorted[Math.ceil(at)] ?? low) - low);
}
