import { cross, dot, minus, unit, type Vec } from './noise.ts';

/** A pinhole camera. The world is the part's own frame: x along the axis, z radial at the place looked at, y round it. */
export interface Camera {
  readonly eye: Vec;
  readonly at: Vec;
  /** Direction that is up in the picture. */
  readonly up: Vec;
  /** Focal length in terms of a 36 mm wide frame, mm; the frame's long side is meant. */
  readonly focal35Mm: number;
  /** Size of the upright picture, px. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The camera's right, down and forward directions and its focal length in px. */
export interface View {
  readonly right: Vec;
  readonly down: Vec;
  readonly forward: Vec;
  readonly focalPx: number;
}

export function viewOf(camera: Camera): View {
  const forward = unit(minus(camera.at, camera.eye));
  const right = unit(cross(forward, camera.up));
  const down = cross(forward, right);
  const focalPx = (camera.focal35Mm / 36) * Math.max(camera.widthPx, camera.heightPx);
  return { right, down, forward, focalPx };
}

/** Where a point of the scene appears, px of the upright picture with pixel centres at whole numbers. */
export function project(camera: Camera, point: Vec): [number, number] {
  const { right, down, forward, focalPx } = viewOf(camera);
  const q = minus(point, camera.eye);
  const depth = dot(q, forward);
  const x = (camera.widthPx - 1) / 2 + (focalPx * dot(q, right)) / depth;
  const y = (camera.heightPx - 1) / 2 + (focalPx * dot(q, down)) / depth;
  return [Math.round(x * 10) / 10, Math.round(y * 10) / 10];
}
