import { fail, must, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { Lens } from './camera.ts';
import { type CardName, cardLayout, markerCorners } from './card.ts';
import type { Pose } from './flatReference.ts';
import type { Point } from './homography.ts';

/** Corners of one card found in one photo. */
export interface CalibrationShot {
  /** What a person knows the photo by. */
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Focal length in terms of 35 mm film as the photo states it, mm; null where it does not. */
  readonly focal35Mm: number | null;
  /** Places of the corners on the card, mm, x to the right and y down; any origin. */
  readonly mm: readonly Point[];
  readonly px: readonly Point[];
}

/** Standard uncertainties of a lens; of the focal length relative. */
export interface LensU {
  readonly focalShare: number;
  readonly centrePx: Point;
  readonly k1: number;
  readonly k2: number;
}

/** A camera fitted from several shots of a card, with standard uncertainties. */
export interface CameraFit {
  readonly lens: Lens;
  /** Size of the pictures it was fitted to. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** What the scatter of the corners gives, and what a printer that stretches one side of the card gives. */
  readonly fromCorners: LensU;
  readonly fromPrint: LensU;
  /** Both together: relative of the focal length, and of k1. */
  readonly focalShareU: number;
  readonly k1U: number;
  /** Root mean square distance of the corners found from the corners fitted, px: over all shots, and of each. */
  readonly residualPx: number;
  readonly shots: readonly { readonly name: string; readonly residualPx: number; readonly pose: Pose }[];
  /** Largest angle between the directions that two shots look from at the card, rad. */
  readonly apartRad: number;
  /**
   * Farthest corner from the lens’s centre, as a share of the way to the picture’s corners: distortion beyond it is told
   * by the form of the model alone.
   */
  readonly reachShare: number;
}

/** Stated focal lengths are whole millimetres: 23 and 24 may be one lens, 13 and 26 are not. Our own choice. */
const SAME_LENS = 1.06;
/** Fewer shots than this are refused: one that is off could not be told from the others. */
export const CALIBRATION_SHOTS_MIN = 4;
/** More bring little and keep a phone busy for long. */
const CALIBRATION_SHOTS_MAX = 16;
/** Two markers of four corners. */
export const CALIBRATION_CORNERS_MIN = 8;
/** Shots from nearly one direction leave the focal length to chance; our own choice. */
const APART_RAD_MIN = (15 * Math.PI) / 180;
/** Mean misfit beyond which the shots contradict each other, as a share of the picture’s long side; our own choice. */
const RESIDUAL_SHARE_MAX = 1 / 2500;
/** How many times the misfit of the middle shot makes a shot the one to leave out; our own choice. */
const WORST_TIMES = 2.5;
/** A profile less sure than this is worth no more than the focal length a photo states; our own choice. */
const FOCAL_SHARE_U_MAX = 0.01;
const K1_U_MAX = 0.04;
/** A card found in a photo, as one shot: corners of its markers on the card and in the picture. */
export function shotOfCard(
  name: string,
  picture: Pick<CalibrationShot, 'widthPx' | 'heightPx' | 'focal35Mm'>,
  card: {
    readonly layout: CardName;
    readonly markers: readonly { readonly id: number; readonly corners: readonly Point[] }[];
  },
): CalibrationShot {
  const { markers } = cardLayout(card.layout);
  const pairs = card.markers.flatMap(({ id, corners }) => {
    const printed = markers.find((one) => one.id === id);
    if (printed === undefined) return [];
    return markerCorners(printed).map((mm, k) => ({
      mm,
      px: must(corners[k], `corner ${k} of marker ${id}`),
    }));
  });
  const { widthPx, heightPx, focal35Mm } = picture;
  return {
    name,
    widthPx,
    heightPx,
    focal35Mm,
    mm: pairs.map(({ mm }) => mm),
    px: pairs.map(({ px }) => px),
  };
}

/** What is wrong with shots before anything is fitted; null when they can be tried. */
export function shotsProblem(shots: readonly CalibrationShot[]): Problem | null {
  const [first] = shots;
  if (first === undefined || shots.length < CALIBRATION_SHOTS_MIN) {
    return problem(
      'calibration-few',
      'photos',
      shots.length,
      `A camera needs at least ${CALIBRATION_SHOTS_MIN} photos of a card`,
      'Take more, each from another direction.',
    );
  }
  if (shots.length > CALIBRATION_SHOTS_MAX) {
    return problem(
      'calibration-many',
      'photos',
      shots.length,
      `At most ${CALIBRATION_SHOTS_MAX} photos are taken together`,
      'Leave some out.',
    );
  }
  const size = ({ widthPx, heightPx }: CalibrationShot) => `${widthPx} × ${heightPx} px`;
  const other = shots.find((shot) => size(shot) !== size(first));
  if (other !== undefined) {
    return problem(
      'calibration-sizes',
      'photos',
      `${first.name}: ${size(first)}, ${other.name}: ${size(other)}`,
      'The photos are not all of one size',
      'Take them all with the same camera at the same setting, and hold it the same way round.',
    );
  }
  const stated = shots.flatMap(({ focal35Mm }) => (focal35Mm === null ? [] : [focal35Mm]));
  if (Math.max(...stated) > SAME_LENS * Math.min(...stated)) {
    return problem(
      'calibration-lens',
      'photos',
      [...new Set(stated)].map((mm) => `${mm} mm`).join(', '),
      'The photos state different focal lengths, so they were taken with different lenses or with zoom',
      'Take them all with one lens and without zoom.',
    );
  }
  const poor = shots.find(({ mm, px }) => mm.length < CALIBRATION_CORNERS_MIN || mm.length !== px.length);
  return poor === undefined
    ? null
    : problem(
        'calibration-corners',
        `photos, ${poor.name}`,
        `${Math.min(poor.mm.length, poor.px.length)} corners`,
        'Too little of the card was found in this photo',
        'Leave it out, or take it again with at least two markers of the card in sight.',
      );
}

/** The corners of a shot do not span a plane. */
export function onOneLine(shot: CalibrationShot): Problem {
  return problem(
    'calibration-line',
    `photos, ${shot.name}`,
    shot.px,
    'The corners found in this photo lie on one line',
    'Leave it out, or take it again less from the side.',
  );
}

/** Shots that look from nearly one direction, null when they do not; the largest angle between two of them in rad. */
export function directionProblem(apartRad: number): Problem | null {
  if (apartRad >= APART_RAD_MIN) return null;
  return problem(
    'calibration-direction',
    'photos',
    `at most ${Math.round((apartRad * 180) / Math.PI)}° between two photos`,
    'All photos look at the card from nearly the same direction, which does not fix the focal length',
    'Take some from the left, the right, above and below, each about 30° from square.',
  );
}

/** The shots do not fix the camera well enough to be of use; `fit` null when they do not fix it at all. */
export function openProblem(fit: CameraFit | null): Problem {
  const value =
    fit === null
      ? 'not fixed'
      : `focal length ± ${(fit.focalShareU * 100).toFixed(1)} %, distortion ± ${fit.k1U.toFixed(3)}`;
  return problem(
    'calibration-open',
    'photos',
    value,
    'The photos do not tell the camera well enough',
    'Take more of them, closer, with the card filling half of the picture and once in each corner of it.',
  );
}

/** The fit, unless it is too unsure or its shots contradict each other. */
export function judged(fit: CameraFit): Result<CameraFit, Problem> {
  const misfit = misfitProblem(fit);
  if (misfit !== null) return fail(misfit);
  const direction = directionProblem(fit.apartRad);
  if (direction !== null) return fail(direction);
  const sure = fit.focalShareU <= FOCAL_SHARE_U_MAX && fit.k1U <= K1_U_MAX;
  return sure ? ok(fit) : fail(openProblem(fit));
}

function misfitProblem({ residualPx, widthPx, heightPx, shots }: CameraFit): Problem | null {
  if (residualPx <= RESIDUAL_SHARE_MAX * Math.max(widthPx, heightPx)) return null;
  const ordered = [...shots].sort((a, b) => b.residualPx - a.residualPx);
  const [worst] = ordered;
  const middle = ordered[Math.floor(ordered.length / 2)]?.residualPx ?? 0;
  if (worst !== undefined && worst.residualPx > WORST_TIMES * middle) {
    return problem(
      'calibration-misfit',
      `photos, ${worst.name}`,
      `${worst.residualPx.toFixed(1)} px off`,
      'This photo does not fit the others: it may be blurred, or the card was bent in it',
      'Leave it out, or take it again.',
    );
  }
  return problem(
    'calibration-misfit',
    'photos',
    `${residualPx.toFixed(1)} px off`,
    'The photos contradict each other: the card was not flat, or the camera zoomed or changed lens between them',
    'Glue the card to something flat and stiff, and take all photos with one lens and without zoom.',
  );
}
