import { intersection, union } from 'polyclip-ts';
import { mean, must } from '../base/index.ts';
import { linesOf } from './lines.ts';
import { bandEdgesPx, boundsPx } from './measure.ts';
import { distancePx, lineLengthPx, nearestOnSegment, segmentsOf } from './points.ts';
import type { PointPx, Shape } from './shape.ts';

/** How far apart two shapes on one photo lie. Distances in px of the upright original. */
export interface Alike {
  /** Mean distance of the points of each to the nearest of the other, and the mean of the two. */
  readonly meanPx: number;
  /** The same from the first to the second alone, and from the second to the first. */
  readonly toSecondPx: number;
  readonly toFirstPx: number;
  /** The farthest that any point of either lies from the other: the Hausdorff distance. */
  readonly farthestPx: number;
  /** Common area over joint area (Jaccard index), 0 to 1; null where one of them has no area. */
  readonly overlap: number | null;
}

/** Points taken along the whole of a shape. */
const SAMPLES = 400;

/** Points at even steps along the lines of a shape, ends and corners included. */
function samplesOf(shape: Shape): PointPx[] {
  const runs = linesOf(shape).map(({ points, closed }) =>
    closed ? [...points, must(points[0], 'a first point')] : [...points],
  );
  const total = runs.reduce((sum, points) => sum + lineLengthPx(points), 0);
  const step = Math.max(total / SAMPLES, 1e-6);
  return runs.flatMap((points) =>
    points.flatMap((from, i): PointPx[] => {
      const to = points[i + 1];
      if (to === undefined) return [from];
      const steps = Math.max(1, Math.ceil(distancePx(from, to) / step));
      return Array.from({ length: steps }, (_, n): PointPx => {
        const share = n / steps;
        return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
      });
    }),
  );
}

/** Distance from a point to the lines of a shape; unlike a touch, the inside of an outline is not on it. */
function toLinesPx(at: PointPx, shape: Shape): number {
  const distances = linesOf(shape).flatMap((line) => {
    const segments = segmentsOf(line.points, line.closed);
    if (segments.length === 0) return line.points.map((point) => distancePx(at, point));
    return segments.map(([a, b]) => distancePx(at, nearestOnSegment(at, a, b).at));
  });
  return Math.min(...distances);
}

type Polygon = [number, number][][];

function polygonOf(shape: Shape): Polygon | null {
  if (shape.form === 'patch') return [shape.outline.map(([x, y]): [number, number] => [x, y])];
  if (shape.form !== 'band') return null;
  const [left, right] = bandEdgesPx(shape);
  return [[...left, ...right.reverse()].map(([x, y]): [number, number] => [x, y])];
}

/** Area of the polygons of a clipping, holes taken away, px². */
function areaPx2(polygons: readonly Polygon[]): number {
  const ring = (points: Polygon[number]) =>
    Math.abs(
      points.reduce((sum, [x, y], i) => {
        const [nextX, nextY] = must(points[(i + 1) % points.length], 'a next point');
        return sum + x * nextY - nextX * y;
      }, 0) / 2,
    );
  return polygons.reduce(
    (sum, [outer, ...holes]) =>
      sum + (outer === undefined ? 0 : ring(outer)) - holes.reduce((all, hole) => all + ring(hole), 0),
    0,
  );
}

function overlapOf(a: Shape, b: Shape): number | null {
  const [first, second] = [polygonOf(a), polygonOf(b)];
  if (first === null || second === null) return null;
  const joint = areaPx2(union(first, second));
  return joint > 0 ? areaPx2(intersection(first, second)) / joint : null;
}

/**
 * How alike two shapes on one photo are. Distances are taken at 400 points along each, so the farthest one is short by half
 * a step at most. The Hausdorff distance and the Jaccard index as in any textbook (from memory).
 */
export function alike(first: Shape, second: Shape): Alike {
  const toSecond = samplesOf(first).map((at) => toLinesPx(at, second));
  const toFirst = samplesOf(second).map((at) => toLinesPx(at, first));
  const [toSecondPx, toFirstPx] = [mean(toSecond), mean(toFirst)];
  return {
    meanPx: (toSecondPx + toFirstPx) / 2,
    toSecondPx,
    toFirstPx,
    farthestPx: Math.max(...toSecond, ...toFirst),
    overlap: overlapOf(first, second),
  };
}

/** What pairing needs of a mark. */
interface Placed {
  readonly photo: string;
  readonly shape: Shape;
  readonly defect: string | null;
}

/** Two people's marks of one thing, or one mark without a fellow. */
export interface MarkPair<M> {
  readonly first: M | null;
  readonly second: M | null;
  readonly alike: Alike | null;
}

/** Two marks closer than this may be of one thing, whatever their size, px; and as a share of the smaller one's extent. */
const NEAR_PX = 20;
const NEAR_SHARE = 0.5;

function extentPx(shape: Shape): number {
  const { left, top, right, bottom } = boundsPx(shape);
  return Math.hypot(right - left, bottom - top);
}

function isOneThing(a: Placed, b: Placed, { toSecondPx, toFirstPx, overlap }: Alike): boolean {
  if (a.photo !== b.photo || (a.defect === null) !== (b.defect === null)) return false;
  if (overlap !== null && overlap > 0) return true;
  const extent = Math.min(extentPx(a.shape), extentPx(b.shape));
  // A trace that follows a crack farther lies near it where the other one runs.
  return Math.min(toSecondPx, toFirstPx) <= Math.max(NEAR_PX, NEAR_SHARE * extent);
}

/**
 * Pairs the marks of two people that are of one thing: on the same photo, overlapping or near (own choice, see the top of
 * this part), those that say the same first, the nearest first. Each mark is in one pair; those without a fellow come last.
 */
export function pairMarks<M extends Placed>(first: readonly M[], second: readonly M[]): MarkPair<M>[] {
  const candidates = first.flatMap((a) =>
    second
      .filter((b) => b.photo === a.photo)
      .map((b) => ({ first: a, second: b, alike: alike(a.shape, b.shape) }))
      .filter((pair) => isOneThing(pair.first, pair.second, pair.alike)),
  );
  const apart = ({ alike: { toSecondPx, toFirstPx } }: { alike: Alike }) => Math.min(toSecondPx, toFirstPx);
  const differs = (pair: { first: M; second: M }) => (pair.first.defect === pair.second.defect ? 0 : 1);
  candidates.sort((a, b) => differs(a) - differs(b) || apart(a) - apart(b));
  const taken = new Set<M>();
  const pairs: MarkPair<M>[] = [];
  for (const pair of candidates) {
    if (taken.has(pair.first) || taken.has(pair.second)) continue;
    taken.add(pair.first).add(pair.second);
    pairs.push(pair);
  }
  return [
    ...pairs,
    ...first.filter((one) => !taken.has(one)).map((one) => ({ first: one, second: null, alike: null })),
    ...second.filter((one) => !taken.has(one)).map((one) => ({ first: null, second: one, alike: null })),
  ];
}
