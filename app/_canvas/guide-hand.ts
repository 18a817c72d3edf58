import {
  type FramePx,
  guidePointUnder,
  keptPoint,
  moveGuidePoint,
  type PointPx,
  withGuidePoint,
} from '../../lib/marks/index.ts';
import type { ScaleGuide } from './types.ts';

/** The hand on the points that set the scale: setting missing ones, moving and nudging those that are there. */
export class GuideHand {
  /** Place of the point in hand, px; null when none is. */
  at: PointPx | null = null;
  /** Index of the point last touched, which the arrow keys nudge. */
  chosen: number | null = null;
  #press: { index: number | null; offset: PointPx } | null = null;
  #told: readonly PointPx[] | null = null;

  get pressed(): boolean {
    return this.#press !== null;
  }

  /** The points as the hand has them, the one in hand included. */
  shown(guide: ScaleGuide, frame: FramePx): readonly PointPx[] {
    const points = this.#told ?? guide.points;
    if (this.#press === null || this.at === null) return points;
    const now = { points, wanted: guide.wanted };
    return this.#press.index === null
      ? withGuidePoint(now, this.at, frame)
      : moveGuidePoint(now, this.#press.index, this.at, frame);
  }

  /** Takes a pointer's doing, px of the photo; false when it is no business of the guide. */
  point(
    kind: 'down' | 'move' | 'up',
    guide: ScaleGuide,
    to: PointPx,
    reachPx: number,
    frame: FramePx,
  ): boolean {
    if (kind === 'down') return this.#take(guide, to, reachPx, frame);
    if (this.#press === null) return false;
    this.at = keptPoint([to[0] + this.#press.offset[0], to[1] + this.#press.offset[1]], frame);
    if (kind === 'up') this.#release(guide, frame);
    return true;
  }

  #take(guide: ScaleGuide, to: PointPx, reachPx: number, frame: FramePx): boolean {
    const points = this.#told ?? guide.points;
    const index = guidePointUnder({ points, wanted: guide.wanted }, to, reachPx);
    const held = index === null ? undefined : points[index];
    if (!held && points.length >= guide.wanted) return false;
    this.#press = { index, offset: held ? [held[0] - to[0], held[1] - to[1]] : [0, 0] };
    this.at = held ?? keptPoint(to, frame);
    this.chosen = index ?? points.length;
    return true;
  }

  #release(guide: ScaleGuide, frame: FramePx): void {
    const points = this.shown(guide, frame);
    this.drop();
    this.#tell(guide, points);
  }

  #tell(guide: ScaleGuide, points: readonly PointPx[]): void {
    this.#told = points;
    guide.onChange(points);
  }

  /** Shifts the point last touched; false when there is none. */
  nudge(guide: ScaleGuide, byPx: PointPx, frame: FramePx): boolean {
    const points = this.#told ?? guide.points;
    const held = this.chosen === null ? undefined : points[this.chosen];
    if (!held || this.chosen === null) return false;
    const to: PointPx = [held[0] + byPx[0], held[1] + byPx[1]];
    this.#tell(guide, moveGuidePoint({ points, wanted: guide.wanted }, this.chosen, to, frame));
    return true;
  }

  /** Lets go without a change. */
  drop(): void {
    this.#press = null;
    this.at = null;
  }

  /** Takes new points from outside as they are. */
  answered(): void {
    this.#told = null;
  }
}
