import type { CameraProfile } from '../record/index.ts';
import { FILM_DIAGONAL_MM } from './camera.ts';
import type { CalibrationShot, CameraFit } from './cameraFit.ts';

/**
 * Focusing moves the lens: a thin lens of focal length f focused at u has its picture at f(1 + f/u). For the 6 mm of a
 * phone that is 2 % at 0.3 m and 0.6 % at 1 m; within the distances a rim is photographed from, taken as half a percent.
 */
const REFOCUS_SHARE_U = 0.005;

/**
 * What is stored of a fitted camera, under the person’s own name for it. The uncertainty of the focal length also
 * covers that the camera focuses at another distance next time.
 */
export function profileOfCamera(fit: CameraFit, name: string): CameraProfile {
  const { lens, widthPx, heightPx, focalShareU, k1U } = fit;
  return {
    name,
    widthPx,
    heightPx,
    focalPx: lens.focalPx,
    centrePx: [...lens.centrePx],
    k1: lens.k1,
    k2: lens.k2,
    focalShareU: Math.hypot(focalShareU, REFOCUS_SHARE_U),
    k1U,
  };
}

/** Focal length of a fitted camera in terms of 35 mm film, mm, as photos state it. */
export function focal35Of({ widthPx, heightPx, focalPx }: FocalAtSize): number {
  return (focalPx * FILM_DIAGONAL_MM) / Math.hypot(widthPx, heightPx);
}

type FocalAtSize = Pick<CameraProfile, 'widthPx' | 'heightPx' | 'focalPx'>;

/** How far the focal length that a photo states may be from the profile’s: rounding, cropping by stabilisation. Our own choice. */
const STATED_SHARE = 0.05;
const SHAPE_SHARE = 0.01;

/**
 * The profile, where a photo can come from its camera: the picture has its shape, either way round, and states its
 * focal length. Null otherwise, also where the photo states none. Two cameras alike in both cannot be told apart here.
 */
export function profileForPhoto(
  profile: CameraProfile | null,
  photo: Pick<CalibrationShot, 'widthPx' | 'heightPx' | 'focal35Mm'>,
): CameraProfile | null {
  if (profile === null || photo.focal35Mm === null) return null;
  const shape = ({ widthPx, heightPx }: { widthPx: number; heightPx: number }) =>
    Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
  const sameShape = Math.abs(shape(photo) / shape(profile) - 1) <= SHAPE_SHARE;
  const sameLens = Math.abs(photo.focal35Mm / focal35Of(profile) - 1) <= STATED_SHARE;
  return sameShape && sameLens ? profile : null;
}
