import { uniformFrom } from '../../lib/base/index.ts';
import type { GreyPicture, Point } from '../../lib/photo/index.ts';

/** Normal numbers by Box and Muller, the same in every run. */
function normals(seed: number): () => number {
  const uniform = uniformFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Distribution function of the normal distribution; Abramowitz and Stegun 7.1.26, error below 1.5e-7. */
export function phi(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const tail =
    ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t;
  const upper = 0.5 * tail * Math.exp(-x * x);
  return z < 0 ? upper : 1 - upper;
}

/** Three-point Gauss and Legendre over the pixel, each way. */
const NODES = [
  [-Math.sqrt(3 / 5) / 2, 5 / 18],
  [0, 8 / 18],
  [Math.sqrt(3 / 5) / 2, 5 / 18],
] as const;

/** sRGB value of light 0 to 255 (IEC 61966-2-1). */
function encoded(light: number): number {
  const share = Math.min(1, Math.max(0, light / 255));
  return 255 * (share <= 0.0031308 ? 12.92 * share : 1.055 * share ** (1 / 2.4) - 0.055);
}

export interface Drawing {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Light at a place, 0 to 255, already blurred by the lens. */
  readonly light: (at: Point) => number;
  /** Standard deviation of the noise in stored values. */
  readonly noise: number;
  readonly seed: number;
  readonly stored?: 'linear' | 'sRGB';
}

/** A picture whose pixels are the mean light over their squares, with noise, rounded to whole values. */
export function drawn({ widthPx, heightPx, light, noise, seed, stored = 'linear' }: Drawing): GreyPicture {
  const normal = normals(seed);
  const values = new Uint8ClampedArray(widthPx * heightPx);
  for (let y = 0; y < heightPx; y += 1) {
    for (let x = 0; x < widthPx; x += 1) {
      let sum = 0;
      for (const [dx, wx] of NODES) for (const [dy, wy] of NODES) sum += wx * wy * light([x + dx, y + dy]);
      values[y * widthPx + x] = (stored === 'sRGB' ? encoded(sum) : sum) + noise * normal();
    }
  }
  return { widthPx, heightPx, values };
}

/** Quantile of errors, for assertions on percentiles. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}
