import { describe, expect, test } from 'vitest';
import { commonSpots } from '../../bench/support/correspond.ts';
import { pairs, pictures, quantile, type Truth, truths } from '../../bench/support/truth.ts';
import { must } from '../../lib/base/index.ts';
import type { Point } from '../../lib/photo/index.ts';

/** Epipolar constraint of two calibrated cameras x₂ᵀ [t]× R x₁ = 0 (Longuet-Higgins 1981), from the cameras of the truth alone. */
type P3 = [number, number, number];
const ray = ({ camera: { focalPx, centrePx, distortion } }: Truth, [x, y]: Point): P3 => {
  const [a, b] = [(x - centrePx[0]) / focalPx, (y - centrePx[1]) / focalPx];
  let [u, v] = [a, b];
  for (let turn = 0; turn < 12; turn += 1) {
    const q = u * u + v * v;
    const bent = 1 + distortion.k1 * q + distortion.k2 * q * q;
    [u, v] = [a / bent, b / bent];
  }
  return [u, v, 1];
};
const times = (rows: readonly (readonly number[])[], p: readonly number[]): P3 =>
  rows.map((row) => row.reduce((sum, value, i) => sum + value * (p[i] ?? 0), 0)) as P3;
const cross = (a: P3, b: P3): P3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const turned = (rows: readonly (readonly number[])[]) => [0, 1, 2].map((i) => rows.map((row) => row[i] ?? 0));

/** How far a spot lies from its line in the second picture, px. */
function off(a: Truth, b: Truth, from: Point, to: Point): number {
  const inRim = times(turned(a.camera.rotation), ray(a, from));
  const direction = times(b.camera.rotation, inRim);
  const eyeA = times(
    turned(a.camera.rotation),
    a.camera.translationMm.map((value) => -value),
  );
  const eye = times(b.camera.rotation, eyeA).map(
    (value, i) => value + must(b.camera.translationMm[i], 'shift'),
  ) as P3;
  const line = cross(eye, direction);
  const [x, y] = ray(b, to);
  return (Math.abs(line[0] * x + line[1] * y + line[2]) / Math.hypot(line[0], line[1])) * b.camera.focalPx;
}

const paired = truths(pairs);
const named = (name: string, list: readonly Truth[]) =>
  must(
    list.find((one) => one.name === name),
    name,
  );
const firsts = paired.filter(({ name }) => name.endsWith('-1'));

describe('spots of the metal in pictures of one place', () => {
  test('44 pairs: 8 looked at, 18 held out until a first figure, 18 held out', () => {
    const count = (part: string) => firsts.filter(({ name }) => name.startsWith(part)).length;
    expect([count('try'), count('held'), count('fresh'), paired.length]).toEqual([8, 18, 18, 88]);
  });

  test.each(firsts.map(({ name }) => [name.slice(0, -2)]))(
    '%s lie on the lines that the two cameras give',
    (name) => {
      const [a, b] = [named(`${name}-1`, paired), named(`${name}-2`, paired)];
      const common = commonSpots(a, b);
      expect(common.length).toBeGreaterThan(60);
      const px = common.map(({ from, to }) => off(a, b, from, to));
      expect(quantile(px, 0.5)).toBeLessThan(0.2);
      // Metal that rust lifted or that was worn off between the dates is no longer quite where it was.
      expect(quantile(px, 1)).toBeLessThan(3);
    },
  );

  test('of the series as well', () => {
    const list = truths(pictures);
    for (const zone of ['groove', 'weld', 'seat', 'flange']) {
      const [a, b] = [named(`${zone}-1`, list), named(`${zone}-4`, list)];
      const px = commonSpots(a, b).map(({ from, to }) => off(a, b, from, to));
      expect(quantile(px, 0.5)).toBeLessThan(0.5);
    }
  });
});
