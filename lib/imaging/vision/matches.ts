import type { Point } from '../../photo/index.ts';
import type { Cv } from './cv.ts';
import type { Feature, Looked } from './features.ts';

/** Two features of two photos that look like one place; px of the copies. */
export interface Match {
  readonly from: Point;
  readonly to: Point;
  /** How surely each direction of `to` is known, as a symmetric 2 × 2 weight [xx, xy, yy]; 1 is within a px or so. */
  readonly weight: readonly [number, number, number];
}

/** A feature is placed about equally well in all directions. */
const FEATURE_WEIGHT = [0.4, 0, 0.4] as const;

/** The best answer must be nearer than the second best by this (Lowe 2004; wide, as neighbours sort out the rest). */
const RATIO_MAX = 0.92;
/** Neighbours within this must have moved alike, as a share of the longest side of the copy. */
const NEIGHBOUR_SHARE = 0.12;
/** … to within this share of their distance, and this many px. */
const ALIKE_SHARE = 0.25;
const ALIKE_PX = 5;
/** Neighbours that a match needs. By chance one or two agree. */
const NEIGHBOURS_MIN = 4;

function nearest(cv: Cv, first: Looked, second: Looked): Map<number, number> {
  const matcher = new cv.BFMatcher(cv.NORM_HAMMING, false);
  const all = new cv.DMatchVectorVector();
  matcher.knnMatch(first.descriptors, second.descriptors, all, 2);
  const found = new Map<number, number>();
  for (let i = 0; i < all.size(); i += 1) {
    const two = all.get(i);
    if (two.size() === 2) {
      const [best, next] = [two.get(0), two.get(1)];
      if (best.distance < RATIO_MAX * next.distance) found.set(best.queryIdx, best.trainIdx);
    }
    two.delete();
  }
  for (const thing of [all, matcher]) thing.delete();
  return found;
}

interface Moved extends Match {
  /** How a square round the place was turned and enlarged: a + b·i as a complex number. */
  readonly turn: Point;
}

function movedOf(a: Feature, b: Feature): Moved {
  const angle = ((b.angleDegrees - a.angleDegrees) * Math.PI) / 180;
  const scale = b.sizePx / a.sizePx;
  return {
    from: [a.x, a.y],
    to: [b.x, b.y],
    weight: FEATURE_WEIGHT,
    turn: [scale * Math.cos(angle), scale * Math.sin(angle)],
  };
}

function movedAlike(one: Moved, other: Moved, reachPx: number): boolean {
  const [dx, dy] = [other.from[0] - one.from[0], other.from[1] - one.from[1]];
  const far = Math.hypot(dx, dy);
  if (far > reachPx || far < 1) return false;
  const [c, s] = one.turn;
  const off = Math.hypot(
    other.to[0] - one.to[0] - (c * dx - s * dy),
    other.to[1] - one.to[1] - (s * dx + c * dy),
  );
  return off < ALIKE_PX + ALIKE_SHARE * far;
}

/**
 * Places of one photo found again in another: each the other’s best answer, and with neighbours that moved alike as the
 * size and the direction of the feature say. That holds on a round surface too, where no single plane does; on pictures of
 * different things it leaves next to nothing.
 */
export function matchesOf(cv: Cv, first: Looked, second: Looked): Match[] {
  if (first.features.length < 2 || second.features.length < 2) return [];
  const [there, back] = [nearest(cv, first, second), nearest(cv, second, first)];
  const all: Moved[] = [];
  for (const [i, k] of there) {
    const [a, b] = [first.features[i], second.features[k]];
    if (back.get(k) === i && a !== undefined && b !== undefined) all.push(movedOf(a, b));
  }
  const reachPx = NEIGHBOUR_SHARE * Math.max(first.picture.widthPx, first.picture.heightPx);
  return all
    .filter((one) => {
      let neighbours = 0;
      for (const other of all) if (movedAlike(one, other, reachPx)) neighbours += 1;
      return neighbours >= NEIGHBOURS_MIN;
    })
    .map(({ from, to, weight }) => ({ from, to, weight }));
}
