import { must } from '../../lib/base/index.ts';
import type { GreyPicture, Homography, Point } from '../../lib/photo/index.ts';
import { homographyFrom, inverseOf, mapPoint } from '../../lib/photo/index.ts';
import type { Chance } from './truth.ts';

/** A picture as another camera would have taken it later, and where each of its points went. */
export interface Rephotographed {
  readonly picture: GreyPicture;
  /** From px of the picture to px of the new one. */
  readonly truth: Homography;
}

/** Strays of the corners of a new view, as a share of the picture's width: about 25° aside and a third nearer. */
const CORNER_SHARE = 0.14;

/**
 * Photographs a flat picture anew: seen from aside and turned, in other light, blurred, with noise and with new dark
 * patches on it (a few per cent of the area). What is round in it does not move as it would; `truth` is exact for what is
 * there.
 */
export function rephotographed(picture: GreyPicture, chance: Chance): Rephotographed {
  const { widthPx: w, heightPx: h } = picture;
  const turn = chance.uniform(-0.35, 0.35);
  const scale = chance.uniform(0.85, 1.3);
  const corners: Point[] = [
    [0, 0],
    [w - 1, 0],
    [w - 1, h - 1],
    [0, h - 1],
  ];
  const moved = corners.map(([x, y]): Point => {
    const [u, v] = [(x - w / 2) * scale, (y - h / 2) * scale];
    const stray = () => chance.uniform(-CORNER_SHARE, CORNER_SHARE) * w;
    return [
      w / 2 + Math.cos(turn) * u - Math.sin(turn) * v + stray(),
      h / 2 + Math.sin(turn) * u + Math.cos(turn) * v + stray(),
    ];
  });
  const fitted = homographyFrom(corners, moved);
  if (!fitted.ok) throw new Error(fitted.error.message);
  const aged = withPatches(picture, chance);
  return { picture: lit(seenThrough(aged, inverseOf(fitted.value)), chance), truth: fitted.value };
}

function withPatches({ widthPx, heightPx, values }: GreyPicture, chance: Chance): GreyPicture {
  const aged = Uint8ClampedArray.from(values);
  const count = Math.round(chance.uniform(10, 40));
  for (let patch = 0; patch < count; patch += 1) {
    const [x, y] = [chance.uniform(0, widthPx), chance.uniform(0, heightPx)];
    const [a, b] = [chance.uniform(8, 45), chance.uniform(8, 45)];
    const dark = chance.uniform(0.3, 0.8);
    for (let v = Math.max(0, Math.floor(y - b)); v < Math.min(heightPx, y + b); v += 1)
      for (let u = Math.max(0, Math.floor(x - a)); u < Math.min(widthPx, x + a); u += 1) {
        const ragged = 1 + 0.3 * Math.sin(u / 3.1) * Math.cos(v / 2.7);
        if (((u - x) / a) ** 2 + ((v - y) / b) ** 2 > ragged * 0.8) continue;
        aged[v * widthPx + u] = (aged[v * widthPx + u] ?? 0) * dark + chance.normal(6);
      }
  }
  return { widthPx, heightPx, values: aged };
}

function seenThrough({ widthPx, heightPx, values }: GreyPicture, back: Homography): GreyPicture {
  const seen = new Uint8ClampedArray(values.length);
  const at = (x: number, y: number) =>
    values[Math.min(heightPx - 1, Math.max(0, y)) * widthPx + Math.min(widthPx - 1, Math.max(0, x))] ?? 0;
  for (let y = 0; y < heightPx; y += 1)
    for (let x = 0; x < widthPx; x += 1) {
      const [u, v] = mapPoint(back, [x, y]);
      if (!(u > -0.5 && v > -0.5 && u < widthPx - 0.5 && v < heightPx - 0.5)) continue;
      const [i, k] = [Math.floor(u), Math.floor(v)];
      const [p, q] = [u - i, v - k];
      seen[y * widthPx + x] =
        at(i, k) * (1 - p) * (1 - q) +
        at(i + 1, k) * p * (1 - q) +
        at(i, k + 1) * (1 - p) * q +
        at(i + 1, k + 1) * p * q;
    }
  return { widthPx, heightPx, values: seen };
}

/** Other exposure, tone and a side from which the light comes, a little blur, and noise. */
function lit({ widthPx, heightPx, values }: GreyPicture, chance: Chance): GreyPicture {
  const [gain, tone, side, noise] = [
    chance.uniform(0.6, 1.3),
    chance.uniform(0.8, 1.25),
    chance.uniform(-0.35, 0.35),
    chance.uniform(2, 6),
  ];
  const taken = new Uint8ClampedArray(values.length);
  for (let y = 0; y < heightPx; y += 1)
    for (let x = 0; x < widthPx; x += 1) {
      const pixel = y * widthPx + x;
      const here = must(values[pixel], 'pixel');
      const soft = (2 * here + (values[pixel + 1] ?? here) + (values[pixel - 1] ?? here)) / 4;
      const light = gain * (1 + side * (x / widthPx - 0.5) * 2);
      taken[pixel] = 255 * (soft / 255) ** tone * light + chance.normal(noise);
    }
  return { widthPx, heightPx, values: taken };
}
