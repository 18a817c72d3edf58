import type { CalibrationShot } from './cameraFit.ts';
import { homographyFrom, type Point } from './homography.ts';
import { at } from './reference.ts';

type Six = [number, number, number, number, number, number];

/**
 * Focal length from the homographies of planes with the centre in the middle of the picture: the picture of a plane’s
 * two axes must be square and of one length (Zhang 2000, equations 3 and 4). Null where the planes do not say it.
 */
export function focalFromPlanes(
  shots: readonly Pick<CalibrationShot, 'mm' | 'px'>[],
  [cx, cy]: Point,
): number | null {
  let [product, square] = [0, 0];
  for (const { mm, px } of shots) {
    const h = homographyFrom(
      mm,
      px.map(([x, y]): Point => [x - cx, y - cy]),
    );
    if (!h.ok) continue;
    const scale = Math.hypot(h.value[0], h.value[3], h.value[1], h.value[4]);
    const [a, b, c, d, e, f] = [0, 1, 3, 4, 6, 7].map((k) => at(h.value, k) / scale) as Six;
    for (const [flat, deep] of [
      [a * b + c * d, e * f],
      [a * a + c * c - b * b - d * d, e * e - f * f],
    ] as const) {
      product += flat * deep;
      square += flat * flat;
    }
  }
  // flat / f² + deep = 0 for both, in the least squares sense.
  const inverseSquare = square === 0 ? 0 : -product / square;
  return inverseSquare > 0 ? 1 / Math.sqrt(inverseSquare) : null;
}
