import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type Shape, shapeProblem } from '../marks/index.ts';
import { rayThrough } from './camera.ts';
import { longestWay } from './crack.ts';
import { middleOf, type Point } from './homography.ts';
import { type Laid, sizedLines } from './laid.ts';
import { atBest, type Placing } from './placement.ts';
import { type Contribution, type Propagated, propagate } from './propagate.ts';
import type { Reference } from './reference.ts';
import { PICK_U_PX } from './scales.ts';
import { type Lines, sizeOn } from './size.ts';
import { obliquityAt, type Surface } from './surface.ts';
import { distance, norm } from './vector.ts';

/**
 * A size taken from a photo, not judged yet: mm for lengths, mm² for areas, degrees from 0 to 180 for angles, with
 * standard uncertainty u.
 */
export interface SizeTaken {
  readonly quantity: 'length' | 'area' | 'angle';
  readonly value: number;
  readonly u: number;
  /** Largest first; they add in squares to u² (to first order). */
  readonly contributions: readonly Contribution[];
  readonly by: 'first order' | 'Monte Carlo';
  /** The surface it was taken on, in words. */
  readonly surface: string;
  /** Size of one pixel at the mark, mm. */
  readonly mmPerPx: number;
  /** Between the line of sight and square to the surface at the mark, degrees. */
  readonly obliquityDegrees: number;
  /** From the camera, and from the middle of the reference, mm. */
  readonly distanceMm: number;
  readonly fromReferenceMm: number;
}

/** Lengths of a crack beside the sum of its branches. */
export interface CrackWays {
  /** Longest way along it from tip to tip. */
  readonly longest: Propagated;
  /** Straight from one end of the longest way to the other. */
  readonly tipToTip: Propagated;
}

const noSize = (shape: Shape) =>
  problem(
    'measure-form',
    'shape.form',
    shape.form,
    'A spot has no size',
    'Draw a crack, a patch, a span or an angle.',
  );

const missed = (lines: Lines, surface: string) =>
  problem(
    'measure-horizon',
    'shape',
    lines.flat()[0] ?? [],
    `A point of the mark does not lie on the surface chosen for it (${surface})`,
    'Look at the grid laid on the photo; choose the surface or the zone of the mark again, or set the scale again.',
  );

/** Size of a shape where it was laid. Fails when it has none, or when a line of sight misses the surface. */
export function measureOn(
  reference: Reference,
  { placing, size }: Laid,
  shape: Shape,
): Result<SizeTaken, Problem> {
  const sized = sizedLines(shape);
  if (sized === null) return fail(noSize(shape));
  const flaw = shape.form === 'angle' ? shapeProblem(shape) : null;
  if (flaw !== null) return fail(flaw);
  if (size === null) return fail(missed(sized.lines, placing.what));
  const { view, surface } = atBest(reference, placing);
  // The first point is on the surface, or the size would not have been found.
  const at = nearestTo(middleOf(sized.lines.flat()), sized.lines);
  const middle = surface.meet(rayThrough(view.lens, at));
  if (middle === null) return fail(missed(sized.lines, placing.what));
  return ok({
    quantity: sized.taking === 'chord' ? 'length' : sized.taking,
    ...size,
    value: Math.abs(size.value),
    surface: placing.what,
    mmPerPx: mmPerPxAt(surface, view.lens, at),
    obliquityDegrees: (obliquityAt(middle) * 180) / Math.PI,
    distanceMm: norm(middle.point),
    fromReferenceMm: distance(middle.point, view.frame.origin),
  });
}

/** The other lengths of a crack; fails for shapes other than a trace. */
export function crackWaysOn(
  reference: Reference,
  placing: Placing,
  shape: Shape,
): Result<CrackWays, Problem> {
  if (shape.form !== 'trace') return fail(noSize(shape));
  const { view, surface } = atBest(reference, placing);
  const way = longestWay(shape.branches, (a, b) => sizeOn(surface, view.lens, [[a, b]], 'length') ?? 0);
  const model = { reference, placing, pickU: PICK_U_PX };
  const ends = [way[0], way.at(-1)].filter((point) => point !== undefined);
  const longest = propagate({ ...model, taking: 'length', lines: [way] });
  const tipToTip = propagate({ ...model, taking: 'chord', lines: [ends] });
  return longest === null || tipToTip === null
    ? fail(missed([way], placing.what))
    : ok({ longest, tipToTip });
}

/** How far to both sides a pixel’s size across a trace is taken, px. */
const ACROSS_PX = 2;

/** Size of one pixel across a trace at its middle, mm; null off the surface and for other shapes. */
export function acrossOn(reference: Reference, placing: Placing, shape: Shape): number | null {
  const line = shape.form === 'trace' ? shape.branches[0] : undefined;
  const k = Math.max(1, Math.floor((line?.length ?? 0) / 2));
  const [a, b] = [line?.[k - 1], line?.[k]];
  if (a === undefined || b === undefined) return null;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return null;
  const side = (sign: number): Point => [
    (a[0] + b[0]) / 2 - (sign * ACROSS_PX * (b[1] - a[1])) / length,
    (a[1] + b[1]) / 2 + (sign * ACROSS_PX * (b[0] - a[0])) / length,
  ];
  const { view, surface } = atBest(reference, placing);
  const width = sizeOn(surface, view.lens, [[side(1), side(-1)]], 'chord');
  return width === null ? null : width / (2 * ACROSS_PX);
}

function nearestTo(point: Point, lines: Lines): Point {
  const away = (one: Point) => Math.hypot(one[0] - point[0], one[1] - point[1]);
  return lines.flat().reduce((best, one) => (away(one) < away(best) ? one : best));
}

/** Side of the square whose area on the surface equals that of the pixel at a point, mm; NaN off the surface. */
function mmPerPxAt(surface: Surface, lens: Parameters<typeof sizeOn>[1], [x, y]: Point): number {
  const corners: Point[] = [
    [x - 0.5, y - 0.5],
    [x + 0.5, y - 0.5],
    [x + 0.5, y + 0.5],
    [x - 0.5, y + 0.5],
  ];
  return Math.sqrt(Math.abs(sizeOn(surface, lens, [corners], 'area') ?? Number.NaN));
}
