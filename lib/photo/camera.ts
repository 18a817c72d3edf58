import type { PhotoCamera } from '../record/index.ts';
import type { Point } from './homography.ts';
import { unit, type Vec3 } from './vector.ts';

/**
 * A pinhole camera with two radial terms (Brown's model as OpenCV writes it). Pixel centres at whole numbers. Axes of
 * the camera: x right, y down, z forward, origin in its centre of projection.
 */
export interface Lens {
  readonly focalPx: number;
  readonly centrePx: Point;
  readonly k1: number;
  readonly k2: number;
}

/** What is known of the camera before the picture is looked at, with standard uncertainties. */
export interface CameraGuess {
  readonly source: 'camera profile' | 'focal length in the photo' | 'assumed';
  readonly lens: Lens;
  /** Relative standard uncertainty of the focal length. */
  readonly focalShareU: number;
  readonly k1U: number;
}

/** Diagonal of a 35 mm film frame, mm: √(36² + 24²); EXIF’s FocalLengthIn35mmFilm refers to it (CIPA DCG-001, from memory). */
export const FILM_DIAGONAL_MM = Math.hypot(36, 24);
/** Beside the rounding to whole millimetres: focusing close and stabilisation change the field of view. Our own choice. */
const FOCAL_SHARE_U = 0.01;
/** Main cameras of phones, corrected in the phone, keep below this as a rule; our own choice. */
const K1_U = 0.04;
/** Most main cameras of phones lie between 22 and 30 mm; one e-fold of prior covers two-thirds of lenses of all kinds. */
const ASSUMED_FOCAL_MM = 27;
const ASSUMED_SHARE_U = 0.25;

/**
 * What is known of the camera of a photo: a fitted profile where there is one (carried over to the size of this
 * picture), else the focal length in terms of 35 mm film that the photo states, else a broad guess. Without a profile
 * the centre is the middle of the picture and there is no distortion, both with an uncertainty.
 */
export function cameraOfPhoto({ widthPx, heightPx, focal35Mm, profile }: PhotoCamera): CameraGuess {
  if (profile !== null) {
    const upright = widthPx > heightPx === profile.widthPx > profile.heightPx;
    const factor = Math.max(widthPx, heightPx) / Math.max(profile.widthPx, profile.heightPx);
    const lens = lensAtSize(
      { ...profile, centrePx: upright ? profile.centrePx : turnedCentre(profile) },
      factor,
    );
    return { source: 'camera profile', lens, focalShareU: profile.focalShareU, k1U: profile.k1U };
  }
  const focal35 = focal35Mm ?? ASSUMED_FOCAL_MM;
  return {
    source: focal35Mm === null ? 'assumed' : 'focal length in the photo',
    lens: {
      focalPx: (focal35 * Math.hypot(widthPx, heightPx)) / FILM_DIAGONAL_MM,
      centrePx: [(widthPx - 1) / 2, (heightPx - 1) / 2],
      k1: 0,
      k2: 0,
    },
    // Rounded to whole millimetres: half a millimetre either way, rectangular (JCGM 100, 4.3.7).
    focalShareU:
      focal35Mm === null ? ASSUMED_SHARE_U : Math.hypot(0.5 / Math.sqrt(3) / focal35Mm, FOCAL_SHARE_U),
    k1U: K1_U,
  };
}

/** The picture was turned by a quarter: which way is not known, and the centre is near the middle either way. */
function turnedCentre({ widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number }): Point {
  return [(heightPx - 1) / 2, (widthPx - 1) / 2];
}

/** The same lens on a picture of another size: all pixel lengths grow by `factor`. */
function lensAtSize(lens: Lens, factor: number): Lens {
  const [x, y] = lens.centrePx;
  return {
    k1: lens.k1,
    k2: lens.k2,
    focalPx: lens.focalPx * factor,
    centrePx: [(x + 0.5) * factor - 0.5, (y + 0.5) * factor - 0.5],
  };
}

/** Picture of a point in camera axes, px. The point must lie before the camera (z > 0). */
export function project(lens: Lens, [x, y, z]: Vec3): Point {
  const [u, v] = [x / z, y / z];
  const r2 = u * u + v * v;
  const radial = 1 + lens.k1 * r2 + lens.k2 * r2 * r2;
  return [lens.centrePx[0] + lens.focalPx * u * radial, lens.centrePx[1] + lens.focalPx * v * radial];
}

/** Position in the picture of an ideal lens of focal length 1, by fixed-point iteration on Brown's model. */
export function undistorted(lens: Lens, [x, y]: Point): Point {
  const u0 = (x - lens.centrePx[0]) / lens.focalPx;
  const v0 = (y - lens.centrePx[1]) / lens.focalPx;
  if (lens.k1 === 0 && lens.k2 === 0) return [u0, v0];
  let [u, v] = [u0, v0];
  for (let i = 0; i < 20; i += 1) {
    const r2 = u * u + v * v;
    const radial = 1 + lens.k1 * r2 + lens.k2 * r2 * r2;
    const [nextU, nextV] = [u0 / radial, v0 / radial];
    const moved = Math.abs(nextU - u) + Math.abs(nextV - v);
    [u, v] = [nextU, nextV];
    if (moved < 1e-12) break;
  }
  return [u, v];
}

/** Direction from the camera through a pixel, unit length. */
export function rayThrough(lens: Lens, pixel: Point): Vec3 {
  const [u, v] = undistorted(lens, pixel);
  return unit([u, v, 1]);
}
