import { type FramePx, keptPoint } from './edit.ts';
import { distancePx, outlineCrossesItself } from './points.ts';
import type { PointPx } from './shape.ts';

/** Points that set the scale: two ends of a known length, or four corners of a rectangle in order round it. */
export interface Guide {
  readonly points: readonly PointPx[];
  readonly wanted: 2 | 4;
}

/** Index of the guide's point nearest to `p` within `reachPx`; null when none is near. Distances in px. */
export function guidePointUnder(guide: Guide, p: PointPx, reachPx: number): number | null {
  let best: number | null = null;
  let bestPx = reachPx;
  guide.points.forEach((at, index) => {
    const away = distancePx(at, p);
    if (away > bestPx) return;
    best = index;
    bestPx = away;
  });
  return best;
}

/** The guide's points with one more; as they are when all wanted points are set. */
export function withGuidePoint(guide: Guide, at: PointPx, frame: FramePx): readonly PointPx[] {
  return guide.points.length >= guide.wanted ? guide.points : [...guide.points, keptPoint(at, frame)];
}

/** The guide's points with the one at `index` moved to `at`, held inside the photo. */
export function moveGuidePoint(guide: Guide, index: number, at: PointPx, frame: FramePx): readonly PointPx[] {
  return guide.points.map((point, other) => (other === index ? keptPoint(at, frame) : point));
}

/** Whether all wanted points are set and can mean what they should: apart, and four of them not crossed over. */
export function guideIsSet(guide: Guide): boolean {
  if (guide.points.length !== guide.wanted) return false;
  const [a, b] = guide.points;
  if (guide.wanted === 2) return a !== undefined && b !== undefined && distancePx(a, b) > 0;
  return !outlineCrossesItself(guide.points);
}
