import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type EdgeSearch, type EdgeSnap, searchOf, snapAlong } from './edge.ts';
import { checkInside, type GreyPicture } from './grey.ts';
import type { Point } from './homography.ts';

/** A span with both ends pulled to edges. */
export interface SpanSnap {
  readonly ends: readonly [EdgeSnap, EdgeSnap];
  readonly lengthPx: number;
  /** Standard uncertainty of the length from both ends, px. */
  readonly uPx: number;
}

/** Shortest span whose ends can be told apart, px: the smoothing reaches about 3 px to both sides. */
const SPAN_MIN_PX = 8;

/**
 * Pulls both ends of a span to edges along the span’s own direction, as for a gap or a length on a tape. `between` says
 * whether the span is darker or lighter than what lies outside it; then only such edges count. Neither end moves further
 * than 0.45 of the span. Fails for either end as `snapAlong` does and where it lies off the picture, naming the
 * end, and for a span below 8 px.
 */
export function snapSpan(
  picture: GreyPicture,
  [a, b]: readonly [Point, Point],
  search: Omit<EdgeSearch, 'turns'> & { readonly between?: 'any' | 'darker' | 'lighter' } = {},
): Result<SpanSnap, Problem> {
  const { between = 'any', ...rest } = search;
  const whole = searchOf(picture, rest);
  if (!whole.ok) return whole;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (!(length >= SPAN_MIN_PX)) {
    return fail(
      problem(
        'span-short',
        'span',
        [a, b],
        `A span of less than ${SPAN_MIN_PX} px is too short for its ends to be told apart`,
        'Move closer, or pick both ends by eye.',
      ),
    );
  }
  const direction: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const radiusPx = Math.min(whole.value.radiusPx, 0.45 * length);
  const found: EdgeSnap[] = [];
  for (const [k, end] of [a, b].entries()) {
    const inside = checkInside(picture, `span[${k}]`, end);
    if (!inside.ok) return inside;
    const turns = between === 'any' ? 'any' : (between === 'darker') === (k === 0) ? 'to dark' : 'to light';
    const one = snapAlong(picture, end, direction, { ...whole.value, radiusPx, turns }, `span[${k}]`);
    if (!one.ok) return one;
    found.push(one.value);
  }
  const [from, to] = found as [EdgeSnap, EdgeSnap];
  return ok({
    ends: [from, to],
    lengthPx: length + to.shiftPx - from.shiftPx,
    uPx: Math.hypot(from.uPx, to.uPx),
  });
}
