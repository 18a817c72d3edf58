import {
  type GreyPicture,
  greyFromColours,
  PHOTO_PIXELS_MAX,
  photoFormat,
  SNIFF_BYTES,
  upright,
} from '../../photo/index.ts';
import { decodeHeic } from './heic.ts';

/** A photo is read in strips of so many rows: at once it would take 100 MB at 12 megapixels, and longer. */
const STRIP_ROWS = 256;

/** Pixel formats of a decoded frame whose first plane is luma, a byte a pixel. */
const PLANAR: readonly (VideoPixelFormat | null)[] = ['I420', 'I422', 'I444', 'NV12'];

/**
 * The upright grey picture of a photo, in a page or a worker; `orientation` is that of its EXIF tag, 1 to 8. A JPEG
 * holds luma of ITU-R BT.601 itself (JFIF 1.02), which is taken as decoded where the browser gives it: no colours are
 * made and read back. Rejects when the photo cannot be decoded here or has too many pixels.
 */
export async function greyPhoto(photo: Blob, orientation: number): Promise<GreyPicture> {
  const luma = await lumaOf(photo);
  return luma === null ? greyOf(await bitmapOf(photo)) : upright(luma, orientation);
}

/** Luma of a JPEG as stored, not turned; null where this browser does not give it, or the file is another one. */
async function lumaOf(photo: Blob): Promise<GreyPicture | null> {
  if (typeof ImageDecoder === 'undefined') return null;
  const data = await photo.arrayBuffer();
  const format = photoFormat(new Uint8Array(data, 0, Math.min(SNIFF_BYTES, data.byteLength)));
  if (!format.ok || format.value !== 'jpeg') return null;
  const decoder = new ImageDecoder({ data, type: 'image/jpeg' });
  try {
    const { image } = await decoder.decode();
    try {
      return await lumaPlane(image);
    } finally {
      image.close();
    }
  } catch {
    // What this decoder does not take, the other way may, or it says why not.
    return null;
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
  if (widthPx * heightPx > PHOTO_PIXELS_MAX) return null;
  const bytes = new Uint8Array(frame.allocationSize());
  const [plane] = await frame.copyTo(bytes);
  if (plane === undefined) return null;
  const { offset, stride } = plane;
  if (stride === widthPx) {
    // Its own bytes alone, so that the colours are given back.
    return { widthPx, heightPx, values: bytes.slice(offset, offset + widthPx * heightPx) };
  }
  const values = new Uint8Array(widthPx * heightPx);
  for (let y = 0; y < heightPx; y += 1) {
    values.set(bytes.subarray(offset + y * stride, offset + y * stride + widthPx), y * widthPx);
  }
  return { widthPx, heightPx, values };
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
  bitmap.close();
  return { widthPx, heightPx, values };
}
