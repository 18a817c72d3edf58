import type { CameraGuess, Lens } from './camera.ts';
import type { Estimate, Evidence } from './estimate.ts';
import type { Point } from './homography.ts';
import { cross, dot, type Vec3 } from './vector.ts';

/**
 * A flat thing of known size as it lies before the camera: its middle and two directions in its plane, in camera axes,
 * mm. As on a printed card, x is to the right and y down, so that the normal towards the camera is y × x.
 */
export interface Frame {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly normal: Vec3;
}

export function frameOf(origin: Vec3, x: Vec3, y: Vec3): Frame {
  return { origin, x, y, normal: cross(y, x) };
}

/** Camera and reference for one set of values of the unknowns. */
export interface View {
  readonly lens: Lens;
  readonly frame: Frame;
}

/** A reference located in a photo: everything that gives scale ends up as one of these. */
export interface Reference {
  readonly estimate: Estimate;
  /** Camera and reference for values of the unknowns near the estimated ones. */
  viewOf(values: readonly number[]): View;
  /**
   * Other poses that explain the points nearly as well, each with how likely it is; the rest of one is this one. A flat
   * thing seen from afar may lean either way.
   */
  readonly alternatives: readonly { readonly weight: number; readonly reference: Reference }[];
  /** Root mean square distance of the found points from the fitted ones, px; null where nothing is left over. */
  readonly residualPx: number | null;
  /** Points left out because they did not fit, by their position in the list given. */
  readonly leftOut: readonly number[];
  /** Points in the middle of the reference and round it, px. */
  readonly pointsPx: readonly Point[];
}

const CAMERA_EVIDENCE = 'focal length and distortion of the camera';
export const SIZE_EVIDENCE = 'size of the reference';
export const FINDING_EVIDENCE = 'finding the reference in the photo';
export const TILT_EVIDENCE = 'how square the camera looks at the reference';

/** Unknowns shared by all references: logarithm of the focal length’s factor, k1, logarithm of the size’s factor. */
export const [FOCAL, K1, SIZE] = [0, 1, 2];
export const at = (values: readonly number[], i: number): number => values[i] ?? 0;

export function lensOf(camera: CameraGuess, values: readonly number[]): Lens {
  return {
    ...camera.lens,
    focalPx: camera.lens.focalPx * Math.exp(at(values, FOCAL)),
    k1: camera.lens.k1 + at(values, K1),
  };
}

export function priors(camera: CameraGuess, sizeShareU: number): Evidence[] {
  return [
    { name: CAMERA_EVIDENCE, residuals: (v) => [at(v, FOCAL) / camera.focalShareU, at(v, K1) / camera.k1U] },
    { name: SIZE_EVIDENCE, residuals: (v) => [at(v, SIZE) / sizeShareU] },
  ];
}

/** Poses that fit worse than the best one by this much in chi-square are not weighed against it. */
const WORSE_MAX = 14;
/** Two poses whose planes lean apart by less than this are one: cos 2°. */
const SAME_POSE = 0.9994;

/**
 * The best of several fits, with the others that explain the points nearly as well as its alternatives, weighed by
 * their likelihoods exp(−χ²/2).
 */
export function bestOf(
  fits: readonly { readonly reference: Reference; readonly misfit: number }[],
): Reference | undefined {
  const [best, ...others] = [...fits].sort((a, b) => a.misfit - b.misfit);
  if (best === undefined) return undefined;
  const normalOf = ({ estimate, viewOf }: Reference) => viewOf(estimate.values).frame.normal;
  const kept: typeof others = [];
  for (const other of others) {
    const known = [best, ...kept].some(
      ({ reference }) => dot(normalOf(reference), normalOf(other.reference)) > SAME_POSE,
    );
    if (!known && other.misfit - best.misfit < WORSE_MAX) kept.push(other);
  }
  const weights = kept.map(({ misfit }) => Math.exp((best.misfit - misfit) / 2));
  const total = 1 + weights.reduce((sum, one) => sum + one, 0);
  const alternatives = kept.map(({ reference }, i) => ({ weight: (weights[i] ?? 0) / total, reference }));
  return { ...best.reference, alternatives };
}
