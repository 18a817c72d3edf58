import { expose, transfer } from 'comlink';
import type { Problem, Result } from '../../lib/base/index.ts';
import { greyPhoto } from '../../lib/imaging/browser/grey.ts';
import { alignPhotos, loadCv, type RimScenes } from '../../lib/imaging/vision/index.ts';
import {
  type Alignment,
  knownPixels,
  mapAtSize,
  type PhotoMap,
  type PictureSize,
  type Raster,
  warped,
} from '../../lib/photo/index.ts';

/** Pictures of a pair, ready to be drawn: all as the first photo’s camera sees them but `second`. */
export interface LaidPictures {
  readonly first: ImageBitmap;
  readonly second: ImageBitmap;
  /** The second photo laid over the first; see-through where it shows nothing, hatched where nothing bears it out. */
  readonly over: ImageBitmap;
  /** Grey where both are equally bright, darker where the second one is darker. */
  readonly difference: ImageBitmap;
}

async function rasterOf(photo: Blob, widthMostPx: number): Promise<{ bitmap: ImageBitmap; raster: Raster }> {
  const whole = await createImageBitmap(photo, { imageOrientation: 'from-image' });
  const factor = Math.min(1, widthMostPx / Math.max(whole.width, whole.height));
  const [width, height] = [Math.round(whole.width * factor), Math.round(whole.height * factor)];
  const canvas = new OffscreenCanvas(width, height);
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (pen === null) throw new Error('This browser cannot read the pixels of a photo');
  pen.drawImage(whole, 0, 0, width, height);
  whole.close();
  const { data } = pen.getImageData(0, 0, width, height);
  const bitmap = await createImageBitmap(canvas);
  return { bitmap, raster: { widthPx: width, heightPx: height, channels: 4, values: data } };
}

const lumaAt = (values: Raster['values'], at: number) =>
  (77 * (values[at] ?? 0) + 150 * (values[at + 1] ?? 0) + 29 * (values[at + 2] ?? 0)) / 256;

/** Mean and standard deviation of brightness where both photos show something. */
function lightOf(values: Raster['values'], inside: Uint8Array): { mean: number; spread: number } {
  let [sum, squares, count] = [0, 0, 0];
  for (let i = 0; i < inside.length; i += 3) {
    if (inside[i] !== 1) continue;
    const luma = lumaAt(values, 4 * i);
    sum += luma;
    squares += luma * luma;
    count += 1;
  }
  const mean = sum / Math.max(1, count);
  return { mean, spread: Math.sqrt(Math.max(1, squares / Math.max(1, count) - mean * mean)) };
}

/** What is darker and lighter in the second photo, once both are brought to the same mean brightness and contrast. */
function differenceOf(first: Raster, over: Raster, inside: Uint8Array): ImageData {
  const [a, b] = [lightOf(first.values, inside), lightOf(over.values, inside)];
  const out = new ImageData(first.widthPx, first.heightPx);
  for (let i = 0; i < inside.length; i += 1) {
    if (inside[i] !== 1) continue;
    const one = (lumaAt(first.values, 4 * i) - a.mean) / a.spread;
    const other = (lumaAt(over.values, 4 * i) - b.mean) / b.spread;
    const grey = 128 + 45 * (other - one);
    out.data.set([grey, grey, grey, 255], 4 * i);
  }
  return out;
}

/** Width of a hatch and of the space between, px. */
const HATCH_PX = 7;

/** A picture dimmed and hatched where nothing is known. */
function hatched({ widthPx, heightPx, values }: Raster, known: Uint8Array): ImageData {
  const out = new ImageData(Uint8ClampedArray.from(values), widthPx, heightPx);
  for (let y = 0; y < heightPx; y += 1)
    for (let x = 0; x < widthPx; x += 1) {
      const pixel = y * widthPx + x;
      if (known[pixel] === 1) continue;
      const share = Math.floor((x + y) / HATCH_PX) % 2 === 0 ? 0.2 : 0.5;
      for (let c = 0; c < 3; c += 1) out.data[4 * pixel + c] = (values[4 * pixel + c] ?? 0) * share;
    }
  return out;
}

const aligner = {
  /** `rims` is what the record says of the rim, in px of the originals; `sizes` are theirs. */
  async align(
    first: Blob,
    second: Blob,
    sizes: readonly [PictureSize, PictureSize],
    rims: RimScenes | null,
  ): Promise<Result<Alignment, Problem>> {
    const [{ cv }, one, other] = await Promise.all([loadCv(), greyPhoto(first), greyPhoto(second)]);
    return alignPhotos(cv, one, other, rims, sizes);
  },
  /** Lays the second photo over the first. `sizes` are those that the map is between. */
  async lay(first: Blob, second: Blob, map: PhotoMap, widthMostPx: number): Promise<LaidPictures> {
    const [one, other] = await Promise.all([rasterOf(first, widthMostPx), rasterOf(second, widthMostPx)]);
    const small = mapAtSize(map, sizeOf(one.raster), sizeOf(other.raster));
    const { raster, inside } = warped(other.raster, small);
    const known = knownPixels(small);
    const over = await createImageBitmap(hatched(raster, known));
    const told = inside.map((one, pixel) => one & (known[pixel] ?? 0));
    const difference = await createImageBitmap(differenceOf(one.raster, raster, told));
    const laid: LaidPictures = { first: one.bitmap, second: other.bitmap, over, difference };
    return transfer(laid, [laid.first, laid.second, laid.over, laid.difference]);
  },
  /** Both photos by themselves, upright, to pick points on. */
  async both(first: Blob, second: Blob, widthMostPx: number): Promise<[ImageBitmap, ImageBitmap]> {
    const [one, other] = await Promise.all([rasterOf(first, widthMostPx), rasterOf(second, widthMostPx)]);
    const pair: [ImageBitmap, ImageBitmap] = [one.bitmap, other.bitmap];
    return transfer(pair, pair);
  },
};
const sizeOf = ({ widthPx, heightPx }: PictureSize): PictureSize => ({ widthPx, heightPx });

export type Aligner = typeof aligner;

expose(aligner);
