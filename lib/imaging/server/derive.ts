import sharp, { type OutputInfo, type Sharp } from 'sharp';
import { fail, ok, type Problem, type Result } from '../../base/index.ts';
import { PHOTO_PIXELS_MAX, photoDamagedProblem } from '../../photo/index.ts';
import { decodeHeic } from './heic.ts';
import { decoderWords, type InspectedPhoto, inspectPhoto, type PhotoFacts } from './inspect.ts';

/** Widths of the derived pictures, pixels; a smaller original is never enlarged. */
export const DERIVATIVE_WIDTHS = [320, 1024, 2048] as const;
export type DerivativeWidth = (typeof DERIVATIVE_WIDTHS)[number];

/** Upright WebP pictures by width. */
export type Derivatives = Readonly<Record<DerivativeWidth, Buffer>>;

export interface DeriveOptions {
  /** Whether derived pictures keep the position; all other metadata is dropped always. */
  readonly keepLocation: boolean;
}

/** WebP cannot hold more; only very long strips come near it. */
const SIDE_PX_MAX = 16_383;
const WEBP = { quality: 80, effort: 2 } as const;

interface RawPicture {
  readonly data: Buffer;
  readonly info: OutputInfo;
}

/** A photo that was decoded to its end, with its facts and derived pictures. */
export interface ReadPhoto {
  readonly facts: PhotoFacts;
  readonly derivatives: Derivatives;
}

/**
 * Inspects a photo and makes its derived pictures, decoding once. Fails with a problem when it is not a still
 * photo of a known format, too large, cut off or damaged. Safe for hostile bytes; never looks at names.
 */
export async function readPhoto(
  bytes: Uint8Array,
  options: DeriveOptions,
): Promise<Result<ReadPhoto, Problem>> {
  const inspected = await inspectPhoto(bytes);
  if (!inspected.ok) return inspected;
  const derivatives = await derivePhoto(bytes, inspected.value, options);
  if (!derivatives.ok) return derivatives;
  return ok({ facts: inspected.value.facts, derivatives: derivatives.value });
}

/** The derived pictures of an inspected photo: decoded once to the largest, the smaller ones from that. */
async function derivePhoto(
  bytes: Uint8Array,
  photo: InspectedPhoto,
  options: DeriveOptions,
): Promise<Result<Derivatives, Problem>> {
  const decoded = await decode(bytes, photo);
  if (!decoded.ok) return decoded;
  const location = options.keepLocation ? photo.location : undefined;
  const large = decoded.value;
  const largeFile = encode(large, location);
  const middle = await shrink(large, 1024);
  const middleFile = encode(middle, location);
  const smallFile = encode(await shrink(middle, 320), location);
  const files = await Promise.all([smallFile, middleFile, largeFile]);
  return ok({ 320: files[0], 1024: files[1], 2048: files[2] });
}

async function decode(bytes: Uint8Array, photo: InspectedPhoto): Promise<Result<RawPicture, Problem>> {
  if (photo.facts.format === 'heic') return decodeContainer(bytes);
  try {
    // 'error' refuses everything 'truncated' refuses and data the decoder had to guess.
    const picture = sharp(bytes, { failOn: 'error', limitInputPixels: PHOTO_PIXELS_MAX }).autoOrient();
    return ok(await toRaw(picture, 2048));
  } catch (error) {
    return fail(photoDamagedProblem(decoderWords(error)));
  }
}

async function decodeContainer(bytes: Uint8Array): Promise<Result<RawPicture, Problem>> {
  const picture = await decodeHeic(bytes, PHOTO_PIXELS_MAX);
  if (!picture.ok) return picture;
  const { width, height, rgba } = picture.value;
  const opaque = sharp(rgba, { raw: { width, height, channels: 4 } }).removeAlpha();
  return ok(await toRaw(opaque, 2048));
}

function toRaw(picture: Sharp, width: DerivativeWidth): Promise<RawPicture> {
  return picture
    .resize({ width, height: SIDE_PX_MAX, fit: 'inside', withoutEnlargement: true })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
}

function ofRaw({ data, info }: RawPicture): Sharp {
  const { width, height, channels } = info;
  return sharp(data, { raw: { width, height, channels } });
}

function shrink(picture: RawPicture, width: DerivativeWidth): Promise<RawPicture> {
  return picture.info.width <= width ? Promise.resolve(picture) : toRaw(ofRaw(picture), width);
}

function encode(
  picture: RawPicture,
  location: Readonly<Record<string, string>> | undefined,
): Promise<Buffer> {
  const file = ofRaw(picture).webp(WEBP);
  return (location === undefined ? file : file.withExif({ IFD3: { ...location } })).toBuffer();
}
