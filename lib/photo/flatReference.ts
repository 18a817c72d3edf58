import { fail, type Problem, problem, type Result } from '../base/index.ts';
import { type CameraGuess, project, undistorted } from './camera.ts';
import { type Estimate, type Evidence, estimate } from './estimate.ts';
import { homographyFrom, middleOf, type Point } from './homography.ts';
import {
  at,
  bestOf,
  FINDING_EVIDENCE,
  frameOf,
  lensOf,
  priors,
  type Reference,
  SIZE,
  SIZE_EVIDENCE,
  type View,
} from './reference.ts';
import { add, along, dot, norm, rotated, scaled, subtract, unit, type Vec3 } from './vector.ts';

/** Points of a flat reference found in the photo. */
export interface FoundPoints {
  /** Positions on the reference, mm, x to the right and y down; any origin. */
  readonly mm: readonly Point[];
  readonly px: readonly Point[];
  /**
   * For corners of dark patches, the middle of each point’s patch, mm: ink, blur and a camera’s tone curve let patches
   * grow or shrink, all alike. Null for points that do not move so.
   */
  readonly patchMm: readonly Point[] | null;
  /** Standard uncertainty of one coordinate of a found point, px. */
  readonly pointU: number;
  /** Take the spread of the points themselves into account, and leave out points that do not fit. */
  readonly learnSpread: boolean;
  /** Relative standard uncertainty of the size, of the whole and of one side against the other. */
  readonly sizeShareU: number;
  readonly aspectShareU: number;
}

/** How a flat thing lies before the camera: two directions in its plane and the place of its origin, mm. */
export interface Pose {
  readonly x: Vec3;
  readonly y: Vec3;
  readonly origin: Vec3;
}

/**
 * First guess of the pose from the homography of a plane to the ideal picture: its first two columns are the plane’s
 * axes and its third the origin, up to one factor (Hartley & Zisserman, 2nd ed., 8.1.1; Zhang 2000, section 3.1).
 */
export function poseFrom(mm: readonly Point[], ideal: readonly Point[]): Result<Pose, Problem> {
  const h = homographyFrom(mm, ideal);
  if (!h.ok) return h;
  const v = h.value;
  const sign = v[8] < 0 ? -1 : 1;
  const column = (j: 0 | 1 | 2): Vec3 => scaled([v[j], v[j + 3] ?? 0, v[j + 6] ?? 0], sign);
  const [a, b] = [column(0), column(1)];
  const size = (norm(a) + norm(b)) / 2;
  // The nearest pair at right angles: turn both by the same amount.
  const [p, q] = [unit(add(unit(a), unit(b))), unit(subtract(unit(a), unit(b)))];
  return {
    ok: true,
    value: { x: unit(add(p, q)), y: unit(subtract(p, q)), origin: scaled(column(2), 1 / size) },
  };
}

/** The other pose that looks nearly the same from afar: depths in the plane mirrored (Collins & Bartoli 2014). */
export function mirrored({ x, y, origin }: Pose): Pose {
  const sight = unit(origin);
  return { origin, x: along(x, sight, -2 * dot(x, sight)), y: along(y, sight, -2 * dot(y, sight)) };
}

/**
 * Locates a flat reference from four or more of its points: pose, focal length and distortion together by weighted
 * least squares on the distances in the picture, from the normalised direct linear transformation as first guess, with
 * what is known of the camera and of the reference’s size as evidence. From the spread of more than four points the
 * uncertainty of a point is learned, and points that fit by far the worst are left out.
 */
export function locatePoints(found: FoundPoints, camera: CameraGuess): Result<Reference, Problem> {
  const middle = middleOf(found.mm);
  const shifted = ([x, y]: Point): Point => [x - middle[0], y - middle[1]];
  const mm = found.mm.map(shifted);
  const guess = poseFrom(
    mm,
    found.px.map((point) => undistorted(camera.lens, point)),
  );
  if (!guess.ok) return guess;
  const fitted = [guess.value, mirrored(guess.value)]
    .map((start) => fitPose(start, { ...found, mm, patchMm: found.patchMm?.map(shifted) ?? null }, camera))
    .filter((one) => one.ok)
    .map((one) => one.value);
  const best = bestOf(fitted);
  const misfit = Math.min(...fitted.map((one) => one.misfit));
  if (best === undefined) {
    return fail(
      problem(
        'reference-open',
        'scale',
        found.px,
        'The points found do not fix where the reference lies',
        'Set the scale again with points further apart.',
      ),
    );
  }
  // Two coordinates a point; six unknowns of the pose are fitted, the rest is known beforehand.
  const free = Math.max(1, 2 * (found.px.length - best.leftOut.length) - 6);
  if (misfit > MISFIT_MAX * free) {
    return fail(
      problem(
        'reference-misfit',
        'scale',
        found.px,
        'The points do not look like a flat thing of this size seen by this camera',
        'Check that the right size was chosen and that the corners go round in order; then set the scale again.',
      ),
    );
  }
  return { ok: true, value: best };
}

/** Six standard uncertainties in the mean: no chance, but another thing, other corners or another camera. Our own choice. */
const MISFIT_MAX = 36;

const ASPECT = 3;
const POSE = 4;
const SPREAD = 10;
/** How far the corners of dark patches may move out or in along their diagonals, px, standard uncertainty. Our own choice. */
const SPREAD_U_PX = 0.8;

interface Fitted {
  readonly reference: Reference;
  /** Squared whitened residuals at the uncertainty stated for the points: to compare fits by. */
  readonly misfit: number;
}

function fitPose(start: Pose, found: FoundPoints, camera: CameraGuess): Result<Fitted, Problem> {
  const far = norm(start.origin);
  const sizes = [0.01, 0.02, 0.002, 0.002, 0.01, 0.01, 0.01, far * 0.01, far * 0.01, far * 0.01, 0.5];
  const viewOf = (v: readonly number[]): View => {
    const turn: Vec3 = [at(v, POSE), at(v, POSE + 1), at(v, POSE + 2)];
    const origin = add(start.origin, [at(v, POSE + 3), at(v, POSE + 4), at(v, POSE + 5)]);
    return {
      lens: lensOf(camera, v),
      frame: frameOf(origin, rotated(start.x, turn), rotated(start.y, turn)),
    };
  };
  const pictured = (v: readonly number[]): Point[] => {
    const { lens, frame } = viewOf(v);
    const [kx, ky] = [Math.exp(at(v, SIZE) + at(v, ASPECT)), Math.exp(at(v, SIZE) - at(v, ASPECT))];
    const seen = ([x, y]: Point) =>
      project(lens, along(along(frame.origin, frame.x, x * kx), frame.y, y * ky));
    return found.mm.map((mm, i) => {
      const point = seen(mm);
      const patch = found.patchMm?.[i];
      if (patch === undefined) return point;
      const middle = seen(patch);
      const [dx, dy] = [point[0] - middle[0], point[1] - middle[1]];
      const spread = at(v, SPREAD) / Math.sqrt(dx * dx + dy * dy);
      return [point[0] + spread * dx, point[1] + spread * dy];
    });
  };
  const distances = (v: readonly number[]): number[] =>
    pictured(v).map(([x, y], i) => Math.hypot(x - (found.px[i]?.[0] ?? 0), y - (found.px[i]?.[1] ?? 0)));
  const evidence = (kept: readonly number[], u: number): Evidence[] => [
    ...priors(camera, found.sizeShareU),
    { name: SIZE_EVIDENCE, residuals: (v) => [at(v, ASPECT) / found.aspectShareU] },
    { name: FINDING_EVIDENCE, residuals: (v) => [at(v, SPREAD) / SPREAD_U_PX] },
    {
      name: FINDING_EVIDENCE,
      residuals: (v) => {
        const points = pictured(v);
        return kept.flatMap((i) => {
          const [x, y] = points[i] ?? [0, 0];
          const [wantedX, wantedY] = found.px[i] ?? [0, 0];
          return [(x - wantedX) / u, (y - wantedY) / u];
        });
      },
    },
  ];
  const solve = (kept: readonly number[], u: number, from: readonly number[] | null) =>
    estimate(from ?? new Array<number>(sizes.length).fill(0), sizes, evidence(kept, u));
  const settled = settle(found, solve, distances);
  if (!settled.ok) return settled;
  const { result, kept } = settled.value;
  const left = distances(result.values);
  const reference: Reference = {
    estimate: result,
    viewOf,
    alternatives: [],
    residualPx:
      kept.length > 4 ? Math.sqrt(kept.reduce((sum, i) => sum + (left[i] ?? 0) ** 2, 0) / kept.length) : null,
    leftOut: found.px.map((_, i) => i).filter((i) => !kept.includes(i)),
    pointsPx: found.px,
  };
  const misfit = evidence(kept, found.pointU)
    .flatMap((one) => [...one.residuals(result.values)])
    .reduce((sum, one) => sum + one * one, 0);
  return { ok: true, value: { reference, misfit } };
}

/** Weight of the stated uncertainty of a point against the spread seen, as a number of points; our own choice. */
const STATED_WEIGHT = 4;
/** A point is left out beyond this many times the spread of the others, and beyond one pixel; our own choice. */
const OUTLIER_SPREADS = 4;
const OUTLIER_PX = 1;

/** Fits, learns the spread of the points from the fit, leaves out the worst misfit, until nothing changes. */
function settle(
  found: FoundPoints,
  solve: (kept: readonly number[], u: number, from: readonly number[] | null) => Result<Estimate, Problem>,
  distances: (values: readonly number[]) => readonly number[],
): Result<{ result: Estimate; kept: readonly number[] }, Problem> {
  let kept = found.px.map((_, i) => i);
  let u = found.pointU;
  let from: readonly number[] | null = null;
  for (;;) {
    const first = solve(kept, u, from);
    if (!first.ok || !found.learnSpread || kept.length <= 4) {
      return first.ok ? { ok: true, value: { result: first.value, kept } } : first;
    }
    from = first.value.values;
    const left = distances(from);
    const squares = (list: readonly number[]) => list.reduce((sum, i) => sum + (left[i] ?? 0) ** 2, 0);
    const worst = kept.reduce((a, b) => ((left[b] ?? 0) > (left[a] ?? 0) ? b : a), kept[0] ?? 0);
    const others = kept.filter((i) => i !== worst);
    const spread = Math.max(found.pointU, Math.sqrt(squares(others) / Math.max(1, 2 * others.length - 6)));
    if ((left[worst] ?? 0) > Math.max(OUTLIER_PX, OUTLIER_SPREADS * spread) && others.length >= 4) {
      kept = others;
      continue;
    }
    // Two coordinates a point, six unknowns of the pose: what is left over, mixed with what was stated.
    const free = Math.max(0, 2 * kept.length - 6);
    const learned = Math.sqrt((STATED_WEIGHT * u * u + squares(kept)) / (STATED_WEIGHT + free));
    u = learned;
    const last = solve(kept, u, from);
    return last.ok ? { ok: true, value: { result: last.value, kept } } : last;
  }
}
