import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { PointPair } from './alignment.ts';
import { type Lens, project, rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { type Axle, type LatheRuns, turned } from './lathe.ts';
import { along, cross, dot, rotated, scaled, subtract, unit, type Vec3 } from './vector.ts';

/** A rim before a camera: how its axle lies, as far as the reference of the photo tells. */
export interface RimPose {
  readonly lens: Lens;
  readonly axle: Axle;
}

/** A point of the first photo on the second, by way of the rim’s surface; null where the line of sight misses the rim. */
export type RimWay = (at: Point) => Point | null;

/**
 * Unknowns of two poses and what they are expected to be off, one standard deviation each; own choice after what one card
 * tells (bench/measuring.ts): shift, mm, and turn, rad, of either axle; the turn round the axle, which no card tells, is
 * wide open in the second; logarithms of both focal lengths.
 */
const OFF = [15, 15, 15, 0.05, 0.05, 0.05, 15, 15, 15, 0.05, 0.05, 0.15, 0.02, 0.02] as const;
/** Scales of the robust misfit, px of a picture 1600 px wide, one after the other. */
const LIMITS_PX = [60, 20, 6, 3, 3];
const STEPS_MAX = 12;
/** Where a line of sight misses the rim, it counts as missed by this. */
const MISSED_PX = 200;

function movedAxle(axle: Axle, [x, y, z, a, b, c]: readonly number[]): Axle {
  const turn: Vec3 = [a ?? 0, b ?? 0, c ?? 0];
  const direction = unit(rotated(axle.direction, turn));
  const outward = rotated(axle.outward, turn);
  return {
    ...axle,
    point: [axle.point[0] + (x ?? 0), axle.point[1] + (y ?? 0), axle.point[2] + (z ?? 0)],
    direction,
    outward: unit(subtract(outward, scaled(direction, dot(outward, direction)))),
  };
}

/** `strict`: only where metal is met; else also where it was merely continued, so that a fit finds its way back. */
function wayOf(runs: LatheRuns, first: RimPose, second: RimPose, strict: boolean): RimWay {
  const surface = turned(runs, first.axle);
  const [a, b] = [first.axle, second.axle];
  const [sideA, sideB] = [cross(a.direction, a.outward), cross(b.direction, b.outward)];
  return (at) => {
    const met = surface.meet(rayThrough(first.lens, at));
    if (met === null || (strict && met.strayMm > 0)) return null;
    const from = subtract(met.point, a.point);
    const axial = dot(from, a.direction) + a.axialMm - b.axialMm;
    const there = along(
      along(along(b.point, b.direction, axial), b.outward, dot(from, a.outward)),
      sideB,
      dot(from, sideA),
    );
    return there[2] > 0 ? project(second.lens, there) : null;
  };
}

function posed(first: RimPose, second: RimPose, off: readonly number[]): readonly [RimPose, RimPose] {
  const lens = (one: Lens, log: number): Lens => ({ ...one, focalPx: one.focalPx * Math.exp(log) });
  return [
    { lens: lens(first.lens, off[12] ?? 0), axle: movedAxle(first.axle, off.slice(0, 6)) },
    { lens: lens(second.lens, off[13] ?? 0), axle: movedAxle(second.axle, off.slice(6, 12)) },
  ];
}

/** Angle round the axle at which the second rim stands against the first: the median of what the pairs say. */
function turnBetween(runs: LatheRuns, first: RimPose, second: RimPose, pairs: readonly PointPair[]): number {
  const angleAt = ({ lens, axle }: RimPose, at: Point): number | null => {
    const met = turned(runs, axle).meet(rayThrough(lens, at));
    if (met === null) return null;
    const from = subtract(met.point, axle.point);
    return Math.atan2(dot(from, cross(axle.direction, axle.outward)), dot(from, axle.outward));
  };
  const turns = pairs
    .flatMap(({ from, to }) => {
      const [a, b] = [angleAt(first, from), angleAt(second, to)];
      return a === null || b === null ? [] : [Math.atan2(Math.sin(b - a), Math.cos(b - a))];
    })
    .sort((a, b) => a - b);
  return turns[Math.floor(turns.length / 2)] ?? 0;
}

/**
 * The ways from one photo to another and back by the rim they both show: the two poses that a reference gives each photo, moved so
 * that pairs of points agree (robust least squares after Levenberg and Marquardt, with the poses as they were as a prior).
 * Where along the rim each photo was taken no card tells: that comes from the pairs. `unitPx` is a px of a picture 1600 px
 * wide.
 */
export function rimWayThrough(
  runs: LatheRuns,
  first: RimPose,
  second: RimPose,
  pairs: readonly PointPair[],
  unitPx: number,
): { readonly forth: RimWay; readonly back: RimWay } {
  const turn = turnBetween(runs, first, second, pairs);
  const { axle } = second;
  const facing: RimPose = {
    ...second,
    axle: { ...axle, outward: rotated(axle.outward, scaled(axle.direction, turn)) },
  };
  const residuals = (off: readonly number[], limitPx: number): number[] => {
    const go = wayOf(runs, ...posed(first, facing, off), false);
    const missed = pairs.flatMap(({ from, to }) => {
      const there = go(from);
      const [dx, dy] = there === null ? [MISSED_PX, MISSED_PX] : scaledBy(there, to, 1 / unitPx);
      // Geman and McClure’s weight: what lies far beyond the limit has next to no say.
      const weight = Math.sqrt(limitPx ** 2 / (limitPx ** 2 + dx * dx + dy * dy));
      return [dx * weight, dy * weight];
    });
    return [...missed, ...off.map((value, i) => value / (OFF[i] ?? 1))];
  };
  let off: number[] = OFF.map(() => 0);
  for (const limitPx of LIMITS_PX) off = leastSquares(off, (values) => residuals(values, limitPx));
  const [a, b] = posed(first, facing, off);
  return { forth: wayOf(runs, a, b, true), back: wayOf(runs, b, a, true) };
}

const scaledBy = ([x, y]: Point, [u, v]: Point, factor: number): Point => [
  (x - u) * factor,
  (y - v) * factor,
];
const squares = (list: readonly number[]) => list.reduce((sum, one) => sum + one * one, 0);

function leastSquares(start: readonly number[], residuals: (off: readonly number[]) => number[]): number[] {
  let off = [...start];
  let now = residuals(off);
  let damping = 1e-2;
  for (let step = 0; step < STEPS_MAX; step += 1) {
    const rows = OFF.map((size, k) => {
      const h = size * 1e-3;
      const moved = residuals(off.map((value, i) => (i === k ? value + h : value)));
      return moved.map((value, i) => (value - (now[i] ?? 0)) / h);
    });
    const jacobian = new Matrix(rows);
    const normal = jacobian.mmul(jacobian.transpose());
    const gradient = jacobian.mmul(Matrix.columnVector(now));
    const before = squares(now);
    let better = false;
    for (let trial = 0; trial < 6 && !better; trial += 1) {
      const damped = normal.clone();
      for (let i = 0; i < OFF.length; i += 1) damped.set(i, i, normal.get(i, i) * (1 + damping));
      const by = new CholeskyDecomposition(damped).solve(gradient).getColumn(0);
      const next = off.map((value, i) => value - (by[i] ?? 0));
      const there = residuals(next);
      better = squares(there) < before;
      damping *= better ? 0.2 : 5;
      if (better) [off, now] = [next, there];
    }
    if (!better || before - squares(now) < 1e-3 * before) break;
  }
  return off;
}
