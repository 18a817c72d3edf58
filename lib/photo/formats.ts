import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

/** Still-picture formats taken as evidence. */
export type PhotoFormat = 'jpeg' | 'png' | 'webp' | 'avif' | 'heic';

/** What the first bytes say: a format taken, a known one that is not, or nothing known. */
export type Sniffed =
  | { readonly kind: 'photo'; readonly format: PhotoFormat }
  | { readonly kind: 'moving'; readonly name: string }
  | { readonly kind: 'other'; readonly name: string }
  | { readonly kind: 'unknown' };

/** Largest file taken, bytes. */
export const PHOTO_BYTES_MAX = 40_000_000;
/** Largest picture taken, pixels. */
export const PHOTO_PIXELS_MAX = 60_000_000;
/** Longest file name kept as a label, characters. */
export const PHOTO_NAME_CHARS_MAX = 200;
/** Bytes `sniffPhoto` needs to see; fewer are enough when the file is shorter. */
export const SNIFF_BYTES = 4096;

/** Media type of each format, as registered. */
export const PHOTO_TYPES: Readonly<Record<PhotoFormat, string>> = {
  jpeg: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
  avif: 'image/avif',
  heic: 'image/heic',
};

/** File name ending of each format. */
export const PHOTO_ENDINGS: Readonly<Record<PhotoFormat, string>> = {
  jpeg: 'jpg',
  png: 'png',
  webp: 'webp',
  avif: 'avif',
  heic: 'heic',
};

const TAKEN = 'Take the photo again or send it as JPEG, PNG, WebP, AVIF or HEIC.';

function text(bytes: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...bytes.subarray(from, to));
}

/** Brands of ISO/IEC 14496-12 `ftyp` boxes: HEVC stills by ISO/IEC 23008-12, AV1 stills by the AVIF specification. */
function sniffBox(bytes: Uint8Array): Sniffed {
  const size = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength).getUint32(0);
  const end = Math.min(size, bytes.length);
  const major = text(bytes, 8, 12);
  if (['avis', 'hevc', 'hevx', 'msf1'].includes(major)) return { kind: 'moving', name: 'an image sequence' };
  const brands = [major];
  for (let at = 16; at + 4 <= end; at += 4) brands.push(text(bytes, at, at + 4));
  if (brands.includes('avif')) return { kind: 'photo', format: 'avif' };
  if (brands.some((brand) => ['heic', 'heix', 'heim', 'heis', 'mif1'].includes(brand))) {
    return { kind: 'photo', format: 'heic' };
  }
  return { kind: 'other', name: 'a video or another media file' };
}

/** Animated PNG by its `acTL` chunk, which stands before the first picture data. */
function sniffPng(bytes: Uint8Array): Sniffed {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 8; at + 8 <= bytes.length; at += 12 + view.getUint32(at)) {
    const name = text(bytes, at + 4, at + 8);
    if (name === 'acTL') return { kind: 'moving', name: 'an animated PNG' };
    if (name === 'IDAT') break;
  }
  return { kind: 'photo', format: 'png' };
}

function sniffWebp(bytes: Uint8Array): Sniffed {
  const animated = text(bytes, 12, 16) === 'VP8X' && ((bytes[20] ?? 0) & 0x02) !== 0;
  return animated ? { kind: 'moving', name: 'an animated WebP' } : { kind: 'photo', format: 'webp' };
}

const OTHERS: ReadonlyArray<readonly [string, string]> = [
  ['GIF8', 'a GIF'],
  ['II*\0', 'a TIFF or camera raw file'],
  ['MM\0*', 'a TIFF or camera raw file'],
  ['BM', 'a BMP'],
  ['%PDF', 'a PDF'],
  ['PK\x03\x04', 'a ZIP archive'],
];

/** Decides by content alone what a file is, from its first `SNIFF_BYTES` bytes; never by name or declared type. */
function sniffPhoto(bytes: Uint8Array): Sniffed {
  if (bytes[0] === 0xff && bytes[1] === 0xd8 && bytes[2] === 0xff) return { kind: 'photo', format: 'jpeg' };
  if (text(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return sniffPng(bytes);
  if (text(bytes, 0, 4) === 'RIFF' && text(bytes, 8, 12) === 'WEBP') return sniffWebp(bytes);
  if (bytes.length >= 12 && text(bytes, 4, 8) === 'ftyp') return sniffBox(bytes);
  const other = OTHERS.find(([start]) => text(bytes, 0, start.length) === start);
  if (other !== undefined) return { kind: 'other', name: other[1] };
  // Past the three bytes of a UTF-8 byte order mark, if there is one; names of elements are plain ASCII.
  const opening = text(bytes, 0, 1024)
    .replace(/^\xef\xbb\xbf/, '')
    .trimStart();
  if (/^<(svg|\?xml|!--|!DOCTYPE svg)/i.test(opening)) return { kind: 'other', name: 'an SVG drawing' };
  return { kind: 'unknown' };
}

/** The format of a photo that is taken, or the problem why not; `field` is `photo`. */
export function photoFormat(firstBytes: Uint8Array): Result<PhotoFormat, Problem> {
  const sniffed = sniffPhoto(firstBytes);
  if (sniffed.kind === 'photo') return ok(sniffed.format);
  if (sniffed.kind === 'moving') {
    return fail(
      problem(
        'photo-moving',
        'photo',
        sniffed.name,
        'Only still photos are taken as evidence',
        'Send one still picture of the spot.',
      ),
    );
  }
  if (sniffed.kind === 'other') {
    return fail(
      problem('photo-format', 'photo', sniffed.name, 'This kind of file is not taken as a photo', TAKEN),
    );
  }
  return fail(problem('photo-not-image', 'photo', 'unknown bytes', 'This file is not a photo', TAKEN));
}

/** Whether a file of `bytes` bytes is taken. */
export function photoSizeProblem(bytes: number): Problem | undefined {
  if (bytes <= 0) {
    return problem('photo-empty', 'photo', `${bytes} bytes`, 'The file is empty', TAKEN);
  }
  if (bytes <= PHOTO_BYTES_MAX) return undefined;
  return problem(
    'photo-bytes',
    'photo',
    `${(bytes / 1e6).toFixed(1)} MB`,
    `A photo may have at most ${PHOTO_BYTES_MAX / 1e6} MB`,
    'Set the camera to JPEG or to a lower resolution and take the photo again.',
  );
}

/** Whether a picture of these pixel counts is taken. */
export function photoPixelsProblem(width: number, height: number): Problem | undefined {
  if (width * height <= PHOTO_PIXELS_MAX) return undefined;
  return problem(
    'photo-pixels',
    'photo',
    `${width} × ${height} pixels`,
    `A photo may have at most ${PHOTO_PIXELS_MAX / 1e6} megapixels`,
    'Set the camera to a lower resolution and take the photo again.',
  );
}

/** The problem of a file whose content cannot be decoded to its end; `why` is the decoder's word. */
export function photoDamagedProblem(why: string): Problem {
  return problem(
    'photo-damaged',
    'photo',
    why,
    'The photo cannot be decoded to its end: the file is cut off or damaged',
    'Copy the file from the camera again or take the photo again.',
  );
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

/**
 * A file name as a label: never used as a path. Refused when it holds folders, dots alone, control or
 * text-direction characters, or is longer than 200 characters; an empty name becomes `photo`.
 */
export function photoLabel(name: string): Result<string, Problem> {
  const plain = name.trim();
  if (plain === '') return ok('photo');
  const wrong = (message: string) =>
    fail(
      problem(
        'photo-name',
        'name',
        plain.replace(new RegExp(CONTROL, 'g'), '�'),
        message,
        'Rename the file to a plain name such as flange.jpg and send it again.',
      ),
    );
  if (plain.length > PHOTO_NAME_CHARS_MAX) {
    return wrong(`A file name may have at most ${PHOTO_NAME_CHARS_MAX} characters`);
  }
  if (CONTROL.test(plain) || /\p{Cs}/u.test(plain)) {
    return wrong('A file name may not hold control characters');
  }
  if (/[/\\]/.test(plain) || /^\.+$/.test(plain)) return wrong('A file name may not name a folder');
  return ok(plain);
}
