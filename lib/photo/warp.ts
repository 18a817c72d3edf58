import { isKnownAt, mapThrough, type PhotoMap } from './photoMap.ts';

/** Values of a picture, row by row, `channels` of them for each pixel, 0 to 255. */
export interface Raster {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly channels: number;
  readonly values: Uint8Array | Uint8ClampedArray;
}

/** The map is worked out at every so many pixels and taken as linear in between. */
const STEP_PX = 8;

/**
 * The second picture as the first one’s camera would have shown it: for each pixel of the first the one it is mapped to,
 * bilinear. Where that lies beside the second picture all values are 0, and `inside` says so.
 */
export function warped(second: Raster, map: PhotoMap): { raster: Raster; inside: Uint8Array } {
  const { widthPx, heightPx } = map.from;
  const { channels } = second;
  const values = new Uint8ClampedArray(widthPx * heightPx * channels);
  const inside = new Uint8Array(widthPx * heightPx);
  for (let top = 0; top < heightPx; top += STEP_PX) {
    for (let left = 0; left < widthPx; left += STEP_PX) {
      const corner = (dx: number, dy: number) => mapThrough(map, [left + dx, top + dy]);
      const [a, b, c, d] = [
        corner(0, 0),
        corner(STEP_PX, 0),
        corner(0, STEP_PX),
        corner(STEP_PX, STEP_PX),
      ] as const;
      for (let y = top; y < Math.min(top + STEP_PX, heightPx); y += 1) {
        const v = (y - top) / STEP_PX;
        const [x0, y0] = [a[0] + v * (c[0] - a[0]), a[1] + v * (c[1] - a[1])];
        const [x1, y1] = [b[0] + v * (d[0] - b[0]), b[1] + v * (d[1] - b[1])];
        for (let x = left; x < Math.min(left + STEP_PX, widthPx); x += 1) {
          const u = (x - left) / STEP_PX;
          const pixel = y * widthPx + x;
          if (sample(second, x0 + u * (x1 - x0), y0 + u * (y1 - y0), values, pixel * channels))
            inside[pixel] = 1;
        }
      }
    }
  }
  return { raster: { widthPx, heightPx, channels, values }, inside };
}

const BLOCK_PX = 4;

/** 1 for each pixel of the first picture where the map says something, to within a block of 4 × 4. */
export function knownPixels(map: PhotoMap): Uint8Array {
  const { widthPx, heightPx } = map.from;
  const known = new Uint8Array(widthPx * heightPx);
  for (let top = 0; top < heightPx; top += BLOCK_PX)
    for (let left = 0; left < widthPx; left += BLOCK_PX) {
      const middle = [
        Math.min(left + BLOCK_PX / 2, widthPx - 1),
        Math.min(top + BLOCK_PX / 2, heightPx - 1),
      ] as const;
      if (!isKnownAt(map, middle)) continue;
      for (let y = top; y < Math.min(top + BLOCK_PX, heightPx); y += 1)
        known.fill(1, y * widthPx + left, y * widthPx + Math.min(left + BLOCK_PX, widthPx));
    }
  return known;
}

function sample(
  { widthPx, heightPx, channels, values }: Raster,
  x: number,
  y: number,
  into: Uint8ClampedArray,
  at: number,
): boolean {
  if (!(x >= 0 && y >= 0 && x < widthPx - 1 && y < heightPx - 1)) return false;
  const [ix, iy] = [Math.floor(x), Math.floor(y)];
  const [u, v] = [x - ix, y - iy];
  const first = (iy * widthPx + ix) * channels;
  const below = first + widthPx * channels;
  for (let c = 0; c < channels; c += 1) {
    const upper = (values[first + c] ?? 0) * (1 - u) + (values[first + channels + c] ?? 0) * u;
    const lower = (values[below + c] ?? 0) * (1 - u) + (values[below + channels + c] ?? 0) * u;
    into[at + c] = upper * (1 - v) + lower * v;
  }
  return true;
}
