import { orientation } from 'exifr';
import {
  type GreyPicture,
  greyFromColours,
  PHOTO_PIXELS_MAX,
  photoPixelsProblem,
  upright,
} from '../../photo/index.ts';
import { formatOfPhoto } from './format.ts';
import { decodeHeic } from './heic.ts';

/** A photo is read in strips of so many rows: at once it would take 100 MB at 12 megapixels, and longer. */
const STRIP_ROWS = 256;

/** Pixel formats of a decoded frame whose first plane is luma, a byte a pixel. */
const PLANAR: readonly (VideoPixelFormat | null)[] = ['I420', 'I422', 'I444', 'NV12'];

/**
 * The upright grey picture of a photo, in a page or a worker. A JPEG holds luma of ITU-R BT.601 itself (JFIF 1.02),
 * which is taken as decoded where the browser gives it: no colours are made and read back. Rejects when the photo
 * cannot be decoded here or has more pixels than a photo may have.
 */
export async function greyPhoto(photo: Blob): Promise<GreyPicture> {
  const luma = await lumaOf(photo);
  // A tag that cannot be read counts as absent, as it does for the browser’s own turning.
  if (luma !== null) return upright(luma, (await orientation(photo).catch(() => undefined)) ?? 1);
  return greyOf(await bitmapOf(photo));
}

/** Luma of a JPEG as stored, not turned; null where this browser does not give it, or the file is another one. */
async function lumaOf(photo: Blob): Promise<GreyPicture | null> {
  if (typeof ImageDecoder === 'undefined') return null;
  const format = await formatOfPhoto(photo);
  if (!format.ok || format.value !== 'jpeg') return null;
  const decoder = new ImageDecoder({ data: await photo.arrayBuffer(), type: 'image/jpeg' });
  try {
    // What this decoder does not take, the other way may, or it says why not.
    const decoded = await decoder.decode().catch(() => null);
    if (decoded === null) return null;
    return await lumaPlane(decoded.image).finally(() => decoded.image.close());
  } finally {
    decoder.close();
  }
}

async function lumaPlane(frame: VideoFrame): Promise<GreyPicture | null> {
  const { fullRange, matrix } = frame.colorSpace;
  const isLuma = PLANAR.includes(frame.format) && fullRange === true;
  const box = frame.visibleRect;
  if (!isLuma || (matrix !== 'smpte170m' && matrix !== 'bt470bg') || box === null) return null;
  const { width: widthPx, height: heightPx } = box;
  refuseTooMany(widthPx, heightPx);
  const bytes = new Uint8Array(frame.allocationSize());
  const [plane] = await frame.copyTo(bytes).catch(() => []);
  if (plane === undefined) return null;
  const { offset, stride } = plane;
  const values = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y += 1) {
    values.set(bytes.subarray(offset + y * stride, offset + y * stride + widthPx), y * widthPx);
  }
  return { widthPx, heightPx, values };
}

function refuseTooMany(widthPx: number, heightPx: number): void {
  const tooMany = photoPixelsProblem(widthPx, heightPx);
  if (tooMany !== undefined) throw new Error(tooMany.message);
}

async function bitmapOf(photo: Blob): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(photo, { imageOrientation: 'from-image' });
  } catch (cause) {
    const decoded = await decodeHeic(photo, PHOTO_PIXELS_MAX);
    if (decoded === null) throw new Error('The photo cannot be decoded on this device', { cause });
    return decoded;
  }
}

/** The grey values of a bitmap, which is closed. */
function greyOf(bitmap: ImageBitmap): GreyPicture {
  const { width: widthPx, height: heightPx } = bitmap;
  try {
    refuseTooMany(widthPx, heightPx);
    return stripsOf(bitmap);
  } finally {
    bitmap.close();
  }
}

function stripsOf(bitmap: ImageBitmap): GreyPicture {
  const { width: widthPx, height: heightPx } = bitmap;
  const canvas = new OffscreenCanvas(widthPx, Math.min(STRIP_ROWS, heightPx));
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  if (pen === null) throw new Error('This browser cannot read the pixels of a photo');
  const values = new Uint8Array(widthPx * heightPx);
  for (let top = 0; top < heightPx; top += STRIP_ROWS) {
    const rows = Math.min(STRIP_ROWS, heightPx - top);
    pen.clearRect(0, 0, widthPx, rows);
    pen.drawImage(bitmap, 0, top, widthPx, rows, 0, 0, widthPx, rows);
    const { data } = pen.getImageData(0, 0, widthPx, rows);
    values.set(greyFromColours(widthPx, rows, data, 4).values, top * widthPx);
  }
  return { widthPx, heightPx, values };
}
