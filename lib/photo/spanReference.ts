import { fail, type Problem, problem, type Result } from '../base/index.ts';
import { type CameraGuess, undistorted } from './camera.ts';
import { type Evidence, estimate } from './estimate.ts';
import type { Point } from './homography.ts';
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
  TILT_EVIDENCE,
  type View,
} from './reference.ts';
import { add, cross, dot, norm, rotated, scaled, subtract, unit, type Vec3 } from './vector.ts';

/** A span of known length between two picked points. */
export interface KnownSpan {
  readonly ends: readonly [Point, Point];
  readonly lengthMm: number;
  /** Relative standard uncertainty of the length. */
  readonly shareU: number;
}

/**
 * How far from square a camera looks at a plane, standard uncertainty in radians about each of its two axes. A camera
 * held by hand within 35° of square, rectangular: 35°/√3 = 20°. Our own choice.
 */
const TILT_U = ((Math.PI / 180) * 35) / Math.sqrt(3);

/**
 * Locates the plane that one or two known lengths lie in. The plane’s tilt is not seen: it is taken as square to the
 * camera’s axis within about 20° (standard uncertainty). A second length across the first one then tells much of it.
 */
export function locateSpans(
  spans: readonly [KnownSpan, ...KnownSpan[]],
  pointU: number,
  camera: CameraGuess,
): Result<Reference, Problem> {
  const short = spans.find(({ ends: [a, b] }) => Math.hypot(b[0] - a[0], b[1] - a[1]) < 2);
  if (short !== undefined) {
    return fail(
      problem(
        'scale-length',
        'scale.ends',
        short.ends,
        'The two ends of the known length lie on one spot',
        'Pick the two ends apart from each other.',
      ),
    );
  }
  const [TILT, PICKS] = [3, 5];
  const picksOf = (v: readonly number[], s: number): [Point, Point] => {
    const [a, b] = spans[s]?.ends ?? [
      [0, 0],
      [0, 0],
    ];
    const k = PICKS + 4 * s;
    return [
      [a[0] + at(v, k), a[1] + at(v, k + 1)],
      [b[0] + at(v, k + 2), b[1] + at(v, k + 3)],
    ];
  };
  const geometry = (v: readonly number[]) => {
    const lens = lensOf(camera, v);
    const rays = spans.map(
      (_, s) => picksOf(v, s).map((point): Vec3 => [...undistorted(lens, point), 1]) as [Vec3, Vec3],
    );
    const away = rotated([0, 0, 1], [at(v, TILT), at(v, TILT + 1), 0]);
    const onPlane = (ray: Vec3): Vec3 => scaled(ray, 1 / dot(ray, away));
    const flat = rays.map(([a, b]) => [onPlane(a), onPlane(b)] as [Vec3, Vec3]);
    const lengths = flat.map(([a, b]) => norm(subtract(b, a)));
    return {
      lens,
      away,
      flat,
      lengths,
      mmPerUnit: (spans[0].lengthMm * Math.exp(at(v, SIZE))) / (lengths[0] ?? 1),
    };
  };
  const viewOf = (v: readonly number[]): View => {
    const { lens, away, flat, mmPerUnit } = geometry(v);
    const [[a, b]] = flat as [[Vec3, Vec3]];
    const x = unit(subtract(b, a));
    return { lens, frame: frameOf(scaled(add(a, b), mmPerUnit / 2), x, cross(away, x)) };
  };
  const unknowns = PICKS + 4 * spans.length;
  const sizes = Array.from({ length: unknowns }, (_, i) => [0.01, 0.02, 0.002, 0.1, 0.1][i] ?? 1);
  const evidence: Evidence[] = [
    ...priors(camera, spans[0].shareU),
    { name: TILT_EVIDENCE, residuals: (v) => [at(v, TILT) / TILT_U, at(v, TILT + 1) / TILT_U] },
    { name: FINDING_EVIDENCE, residuals: (v) => v.slice(PICKS).map((moved) => moved / pointU) },
    {
      name: SIZE_EVIDENCE,
      residuals: (v) => {
        const { lengths, mmPerUnit } = geometry(v);
        return spans
          .slice(1)
          .map((span, i) => Math.log(((lengths[i + 1] ?? 1) * mmPerUnit) / span.lengthMm) / span.shareU);
      },
    },
  ];
  // One length leaves the tilt at its best guess; with a second one a plane may lean either way about each axis.
  const starts = spans.length === 1 ? [[0, 0]] : LEANS.flatMap((a) => LEANS.map((b) => [a, b]));
  const fits = starts
    .map(([a = 0, b = 0]) =>
      estimate(
        Array.from({ length: unknowns }, (_, i) => (i === TILT ? a : i === TILT + 1 ? b : 0)),
        sizes,
        evidence,
      ),
    )
    .filter((one) => one.ok)
    .map(({ value }) => ({
      misfit: value.chiSquare,
      reference: {
        estimate: value,
        viewOf,
        alternatives: [],
        residualPx: null,
        leftOut: [],
        pointsPx: spans.flatMap(({ ends }) => [...ends]),
      },
    }));
  const best = bestOf(fits);
  return best === undefined ? fail(notFixed(spans)) : { ok: true, value: best };
}

/** Starting leans about each axis, rad. */
const LEANS = [-0.3, 0.3];

const notFixed = (spans: readonly KnownSpan[]) =>
  problem(
    'reference-open',
    'scale',
    spans.map(({ ends }) => ends),
    'The lengths picked do not fix a scale',
    'Pick the ends again, the second length across the first.',
  );
