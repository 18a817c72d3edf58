import { fail, must, ok, type Problem, type Result } from '../base/index.ts';
import { cameraOfPhoto, type Lens, project, undistorted } from './camera.ts';
import {
  type CalibrationShot,
  type CameraFit,
  directionProblem,
  judged,
  onOneLine,
  openProblem,
  shotsProblem,
} from './cameraFit.ts';
import { type Estimate, estimate } from './estimate.ts';
import { mirrored, type Pose, poseFrom } from './flatReference.ts';
import type { Point } from './homography.ts';
import { focalFromPlanes } from './planeFocal.ts';
import { at } from './reference.ts';
import { ASPECT_SHARE } from './scales.ts';
import { add, along, cross, dot, norm, rotated, unit, type Vec3 } from './vector.ts';

/** Unknowns of the camera: logarithm of the focal length’s factor, shifts of the centre, k1, k2; six of each pose follow. */
const LENS_UNKNOWNS = 5;
const POSE_UNKNOWNS = 6;

/**
 * Fits focal length, centre, k1, k2 and a pose for every shot to the corners found in four shots or more, by least
 * squares on the distances in the picture (Zhang 2000, section 3), all corners weighing the same. Their standard
 * uncertainty is learned from what is left over. Fails when the shots do not fix the camera or contradict each other.
 */
export function fitCamera(shots: readonly CalibrationShot[]): Result<CameraFit, Problem> {
  const wrong = shotsProblem(shots);
  if (wrong !== null) return fail(wrong);
  const centred = shots.map(centredShot);
  const start = startOf(centred);
  if (!start.ok) return start;
  const direction = directionProblem(apartOf(start.value.poses));
  if (direction !== null) return fail(direction);
  const fitted = fitFrom(centred, start.value);
  const fit = fitted.ok ? withPrint(centred, fitted.value) : fitted;
  return fit.ok ? judged(fit.value) : fail(openProblem(null));
}

/** The card’s origin moved to the middle of the points, so that turning a pose does not also move it. */
function centredShot(shot: CalibrationShot): CalibrationShot {
  const middle = [0, 1].map((k) => shot.mm.reduce((sum, p) => sum + (p[k] ?? 0), 0) / shot.mm.length);
  return { ...shot, mm: shot.mm.map(([x, y]): Point => [x - at(middle, 0), y - at(middle, 1)]) };
}

interface Start {
  readonly lens: Lens;
  readonly poses: readonly Pose[];
}

/** Focal lengths in long sides of the picture that a start is taken from; beyond, the homographies said nothing. */
const FOCAL_SIDES = [0.3, 10] as const;

function startOf(shots: readonly CalibrationShot[]): Result<Start, Problem> {
  const { widthPx, heightPx } = must(shots[0], 'shot');
  const guess = cameraOfPhoto({ widthPx, heightPx, focal35Mm: null, profile: null }).lens;
  const focal = focalFromPlanes(shots, guess.centrePx);
  const long = Math.max(widthPx, heightPx);
  const usable = focal !== null && focal > FOCAL_SIDES[0] * long && focal < FOCAL_SIDES[1] * long;
  const lens = usable ? { ...guess, focalPx: focal } : guess;
  const poses: Pose[] = [];
  for (const shot of shots) {
    const pose = poseFrom(
      shot.mm,
      shot.px.map((point) => undistorted(lens, point)),
    );
    if (!pose.ok) return fail(onOneLine(shot));
    poses.push(nearer(lens, shot, pose.value));
  }
  return ok({ lens, poses });
}

/** Of a pose and its mirrored one, each fitted with the lens held, the one that fits the shot better. */
function nearer(lens: Lens, shot: CalibrationShot, pose: Pose): Pose {
  const tried = [pose, mirrored(pose)].flatMap((start) => {
    const found = estimate(new Array<number>(POSE_UNKNOWNS).fill(0), poseSizes(start), [
      { name: shot.name, residuals: (v) => misfits(lens, moved(start, v, 0), shot) },
    ]);
    return found.ok ? [{ pose: moved(start, found.value.values, 0), misfit: found.value.chiSquare }] : [];
  });
  return tried.sort((a, b) => a.misfit - b.misfit)[0]?.pose ?? pose;
}

function poseSizes({ origin }: Pose): number[] {
  const far = norm(origin) * 0.01;
  return [0.01, 0.01, 0.01, far, far, far];
}

function moved({ x, y, origin }: Pose, v: readonly number[], k: number): Pose {
  const turn: Vec3 = [at(v, k), at(v, k + 1), at(v, k + 2)];
  return {
    x: rotated(x, turn),
    y: rotated(y, turn),
    origin: add(origin, [at(v, k + 3), at(v, k + 4), at(v, k + 5)]),
  };
}

/** Differences between corners fitted and found, x and y in turn, px. */
function misfits(lens: Lens, { x, y, origin }: Pose, { mm, px }: CalibrationShot): number[] {
  return mm.flatMap(([right, down], i) => {
    const [u, v] = project(lens, along(along(origin, x, right), y, down));
    return [u - (px[i]?.[0] ?? 0), v - (px[i]?.[1] ?? 0)];
  });
}

/**
 * `misfits` of a shot that keeps its last answer: while derivatives are taken along one shot’s pose, all others stay.
 * `own` are the values of the unknowns that lens and pose come from.
 */
function keptMisfits(shot: CalibrationShot) {
  let last: { readonly own: readonly number[]; readonly found: number[] } | null = null;
  return (own: readonly number[], lens: Lens, pose: Pose): number[] => {
    const known = last;
    if (known?.own.every((value, i) => value === own[i])) return known.found;
    const found = misfits(lens, pose, shot);
    last = { own, found };
    return found;
  };
}

/** How often the fit is taken up again where it ended, at most, until it moves no more. */
const ROUNDS_MAX = 6;
const SETTLED_SHARE = 1e-9;

interface Fitted extends Start {
  readonly found: Estimate;
}

function fitFrom(shots: readonly CalibrationShot[], from: Start): Result<Fitted, Problem> {
  let start = from;
  let before = Number.POSITIVE_INFINITY;
  for (let round = 1; ; round += 1) {
    const [lensAt, posesAt] = unknownsOf(start);
    const sizes = [0.01, 10, 10, 0.01, 0.01, ...start.poses.flatMap(poseSizes)];
    const kept = shots.map((shot) => keptMisfits(shot));
    const found = estimate(new Array<number>(sizes.length).fill(0), sizes, [
      {
        name: 'corners found',
        residuals: (v) => {
          const [lens, poses] = [lensAt(v), posesAt(v)];
          const lensValues = v.slice(0, LENS_UNKNOWNS);
          return kept.flatMap((misfitsOf, i) => {
            const first = LENS_UNKNOWNS + POSE_UNKNOWNS * i;
            const own = [...lensValues, ...v.slice(first, first + POSE_UNKNOWNS)];
            return misfitsOf(own, lens, must(poses[i], 'pose'));
          });
        },
      },
    ]);
    if (!found.ok) return found;
    const { values, chiSquare } = found.value;
    start = { lens: lensAt(values), poses: posesAt(values) };
    if (before - chiSquare <= SETTLED_SHARE * chiSquare || round === ROUNDS_MAX) {
      return ok({ ...start, found: found.value });
    }
    before = chiSquare;
  }
}

function unknownsOf({ lens, poses }: Start) {
  const lensAt = (v: readonly number[]): Lens => ({
    focalPx: lens.focalPx * Math.exp(at(v, 0)),
    centrePx: [lens.centrePx[0] + at(v, 1), lens.centrePx[1] + at(v, 2)],
    k1: lens.k1 + at(v, 3),
    k2: lens.k2 + at(v, 4),
  });
  const posesAt = (v: readonly number[]): Pose[] =>
    poses.map((pose, i) => moved(pose, v, LENS_UNKNOWNS + POSE_UNKNOWNS * i));
  return [lensAt, posesAt] as const;
}

/**
 * The fit with its uncertainties: covariance scaled by what is left over (Hartley & Zisserman, 2nd ed., 5.2), and beside
 * it what a card printed longer one way than the other would change, found by fitting such a card (JCGM 100, 5.1.3).
 */
function withPrint(
  shots: readonly CalibrationShot[],
  { lens, poses, found }: Fitted,
): Result<CameraFit, Problem> {
  const { widthPx, heightPx } = must(shots[0], 'shot');
  const counted = 2 * shots.reduce((sum, { mm }) => sum + mm.length, 0);
  const scale = found.chiSquare / (counted - LENS_UNKNOWNS - POSE_UNKNOWNS * shots.length);
  const u = (i: number) => Math.sqrt(found.covariance.get(i, i) * scale);
  const stretched = shots.map((shot) => ({
    ...shot,
    mm: shot.mm.map(([x, y]): Point => [x * (1 + ASPECT_SHARE), y * (1 - ASPECT_SHARE)]),
  }));
  const other = fitFrom(stretched, { lens, poses });
  if (!other.ok) return other;
  const { lens: stretchedLens } = other.value;
  const fromCorners = { focalShare: u(0), centrePx: [u(1), u(2)] as const, k1: u(3), k2: u(4) };
  const fromPrint = {
    focalShare: Math.abs(Math.log(stretchedLens.focalPx / lens.focalPx)),
    centrePx: [
      Math.abs(stretchedLens.centrePx[0] - lens.centrePx[0]),
      Math.abs(stretchedLens.centrePx[1] - lens.centrePx[1]),
    ] as const,
    k1: Math.abs(stretchedLens.k1 - lens.k1),
    k2: Math.abs(stretchedLens.k2 - lens.k2),
  };
  return ok({
    lens,
    widthPx,
    heightPx,
    fromCorners,
    fromPrint,
    focalShareU: Math.hypot(fromCorners.focalShare, fromPrint.focalShare),
    k1U: Math.hypot(fromCorners.k1, fromPrint.k1),
    residualPx: Math.sqrt((2 * found.chiSquare) / counted),
    shots: shots.map((shot, i) => {
      const pose = must(poses[i], 'pose');
      const squares = misfits(lens, pose, shot).reduce((sum, one) => sum + one * one, 0);
      return { name: shot.name, residualPx: Math.sqrt(squares / shot.mm.length), pose };
    }),
    apartRad: apartOf(poses),
    reachShare:
      Math.max(...shots.flatMap(({ px }) => px.map((point) => fromCentre(lens, point)))) /
      (Math.hypot(widthPx, heightPx) / 2),
  });
}

const fromCentre = ({ centrePx }: Lens, [x, y]: Point) => Math.hypot(x - centrePx[0], y - centrePx[1]);

/** Largest angle between two cards’ normals as the camera sees them, rad. */
function apartOf(poses: readonly Pose[]): number {
  const normals = poses.map(({ x, y }) => unit(cross(y, x)));
  const cosines = normals.flatMap((a, i) => normals.slice(i + 1).map((b) => dot(a, b)));
  return Math.acos(Math.max(-1, Math.min(1, ...cosines)));
}
