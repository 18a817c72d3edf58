import type { PictureSize } from '../../photo/index.ts';

/** Window of the census (Zabih and Woodfill 1994): pairs of the middle and these neighbours, px of the smaller copies. */
const CENSUS_X = 4;
const CENSUS_Y = 3;
const WINDOW = 2;

/** Which neighbours of each px are darker, two words of bits for each px of a smaller copy. */
export interface Bits {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly low: Uint32Array;
  readonly high: Uint32Array;
}

/** Which neighbours are darker than the middle, two words of bits for each px of a smaller copy. */
export function censusOf(
  values: Uint8Array | Uint8ClampedArray,
  { widthPx, heightPx }: PictureSize,
  shrink: number,
): Bits {
  const [w, h] = [Math.floor(widthPx / shrink), Math.floor(heightPx / shrink)];
  const half = new Float32Array(w * h);
  for (let y = 0; y < h * shrink; y += 1)
    for (let x = 0; x < w * shrink; x += 1) {
      const small = Math.floor(y / shrink) * w + Math.floor(x / shrink);
      half[small] = (half[small] as number) + (values[y * widthPx + x] as number);
    }
  const [low, high] = [new Uint32Array(w * h), new Uint32Array(w * h)];
  for (let y = CENSUS_Y; y < h - CENSUS_Y; y += 1)
    for (let x = CENSUS_X; x < w - CENSUS_X; x += 1) {
      const here = half[y * w + x] ?? 0;
      let [bits, under, over] = [0, 0, 0];
      for (let v = -CENSUS_Y; v <= CENSUS_Y; v += 1)
        for (let u = -CENSUS_X; u <= CENSUS_X; u += 1) {
          if (u === 0 && v === 0) continue;
          const darker = (half[(y + v) * w + x + u] ?? 0) < here ? 1 : 0;
          if (bits < 31) under |= darker << bits;
          else over |= darker << (bits - 31);
          bits += 1;
        }
      low[y * w + x] = under;
      high[y * w + x] = over;
    }
  return { widthPx: w, heightPx: h, low, high };
}

const BITS = (2 * CENSUS_X + 1) * (2 * CENSUS_Y + 1) - 1;
/** The worst cost of a window. */
export const COST_MAX = BITS * (WINDOW + 1) ** 2;
/** Cost of a place that the second photo does not show: as good as chance. */
export const UNSEEN = COST_MAX / 2;

function ones(bits: number): number {
  let n = bits - ((bits >>> 1) & 0x55555555);
  n = (n & 0x33333333) + ((n >>> 2) & 0x33333333);
  return (((n + (n >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}

/** In how many comparisons a window round a place of one copy differs from one round a place of the other, 0 to `COST_MAX`. */
export function windowCost(a: Bits, b: Bits, x: number, y: number, tx: number, ty: number): number {
  const edge = WINDOW + CENSUS_X;
  const open = (u: number, v: number, { widthPx, heightPx }: Bits) =>
    u >= edge && v >= edge && u < widthPx - edge && v < heightPx - edge;
  if (!open(x, y, a) || !open(tx, ty, b)) return UNSEEN;
  let cost = 0;
  for (let v = -WINDOW; v <= WINDOW; v += 2)
    for (let u = -WINDOW; u <= WINDOW; u += 2) {
      const [i, k] = [(y + v) * a.widthPx + x + u, (ty + v) * b.widthPx + tx + u];
      cost += ones((a.low[i] ?? 0) ^ (b.low[k] ?? 0)) + ones((a.high[i] ?? 0) ^ (b.high[k] ?? 0));
    }
  return cost;
}
