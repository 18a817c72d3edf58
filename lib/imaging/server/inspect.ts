import sharp, { type Metadata } from 'sharp';
import { errorText, fail, ok, type Problem, type Result } from '../../base/index.ts';
import {
  type PhotoFormat,
  photoDamagedProblem,
  photoFormat,
  photoPixelsProblem,
  photoSizeProblem,
  SNIFF_BYTES,
} from '../../photo/index.ts';
import { readExif } from './exif.ts';

/** What is known of a photo from its own bytes. */
export interface PhotoFacts {
  readonly format: PhotoFormat;
  /** Size of the upright picture, pixels. */
  readonly width: number;
  readonly height: number;
  /** ISO 8601 local time of exposure, with the offset from UTC when the camera wrote one. */
  readonly capturedAt?: string;
  readonly focalLengthMm?: number;
  readonly focalLength35Mm?: number;
  /** Whether the original carries a position. The position itself is not repeated here. */
  readonly locationPresent: boolean;
}

/** Facts with what decoding and deriving need besides. */
export interface InspectedPhoto {
  readonly facts: PhotoFacts;
  /** EXIF position tags, absent when the photo has none. */
  readonly location?: Readonly<Record<string, string>>;
}

/**
 * Looks at the header: format by content, size limits before anything is decoded, upright size and EXIF facts.
 * That the picture is whole is not known before it is decoded, see `derivePhoto`.
 */
export async function inspectPhoto(bytes: Uint8Array): Promise<Result<InspectedPhoto, Problem>> {
  const tooLarge = photoSizeProblem(bytes.length);
  if (tooLarge !== undefined) return fail(tooLarge);
  const format = photoFormat(bytes.subarray(0, SNIFF_BYTES));
  if (!format.ok) return format;
  const header = await readHeader(bytes);
  if (!header.ok) return header;
  const { width, height } = header.value;
  const tooMany = photoPixelsProblem(width, height);
  if (tooMany !== undefined) return fail(tooMany);
  return ok(inspected(format.value, header.value));
}

async function readHeader(bytes: Uint8Array): Promise<Result<Metadata, Problem>> {
  try {
    // The pixel limit is judged by the caller, who says what to do about it; reading the header decodes nothing.
    return ok(await sharp(bytes, { limitInputPixels: false }).metadata());
  } catch (error) {
    return fail(photoDamagedProblem(decoderWords(error)));
  }
}

function inspected(format: PhotoFormat, header: Metadata): InspectedPhoto {
  const exif = readExif(header.exif);
  // ISO/IEC 23008-12: in HEIF files the container's turns count and the EXIF orientation is to be ignored.
  const turnsByExif = format !== 'heic' && format !== 'avif';
  const lying = turnsByExif && exif.orientation >= 5;
  return {
    facts: {
      format,
      width: lying ? header.height : header.width,
      height: lying ? header.width : header.height,
      ...(exif.capturedAt === undefined ? {} : { capturedAt: exif.capturedAt }),
      ...(exif.focalLengthMm === undefined ? {} : { focalLengthMm: exif.focalLengthMm }),
      ...(exif.focalLength35Mm === undefined ? {} : { focalLength35Mm: exif.focalLength35Mm }),
      locationPresent: exif.location !== undefined,
    },
    ...(exif.location === undefined ? {} : { location: exif.location }),
  };
}

/** The first line of what the decoder said, for a problem's value. */
export function decoderWords(error: unknown): string {
  const words = errorText(error);
  return words.split('\n')[0] ?? '';
}
