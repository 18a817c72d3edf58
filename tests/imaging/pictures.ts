import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import sharp, { type Sharp } from 'sharp';

export type Colour = readonly [number, number, number];
export const RED: Colour = [255, 0, 0];
export const GREEN: Colour = [0, 255, 0];
export const BLUE: Colour = [0, 0, 255];
export const YELLOW: Colour = [255, 255, 0];

/** Corners of a picture: top left, top right, bottom left, bottom right. */
export type Corners = readonly [Colour, Colour, Colour, Colour];

/** A picture whose quarters have the given colours. */
export function quarters(width: number, height: number, corners: Corners): Sharp {
  const data = Buffer.alloc(width * height * 3);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const corner = corners[(y < height / 2 ? 0 : 2) + (x < width / 2 ? 0 : 1)] ?? RED;
      data.set(corner, (y * width + x) * 3);
    }
  }
  return sharp(data, { raw: { width, height, channels: 3 } });
}

/** Seeded grain over a slope: costs a codec about as much as a photo does. */
export function grain(width: number, height: number, seed = 7): Sharp {
  const data = Buffer.alloc(width * height * 3);
  let state = seed;
  for (let i = 0; i < data.length; i += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    data[i] = 60 + (state >>> 26) + ((i / (width * 3)) % 100);
  }
  return sharp(data, { raw: { width, height, channels: 3 } });
}

/** Stored corners for each EXIF orientation so that the upright picture has red, green, blue, yellow corners. */
export const STORED: Readonly<Record<number, { readonly corners: Corners; readonly lying: boolean }>> = {
  1: { corners: [RED, GREEN, BLUE, YELLOW], lying: false },
  2: { corners: [GREEN, RED, YELLOW, BLUE], lying: false },
  3: { corners: [YELLOW, BLUE, GREEN, RED], lying: false },
  4: { corners: [BLUE, YELLOW, RED, GREEN], lying: false },
  5: { corners: [RED, BLUE, GREEN, YELLOW], lying: true },
  6: { corners: [GREEN, YELLOW, RED, BLUE], lying: true },
  7: { corners: [YELLOW, GREEN, BLUE, RED], lying: true },
  8: { corners: [BLUE, RED, YELLOW, GREEN], lying: true },
};

/** Colours found well inside the four corners of an encoded picture. */
export async function cornersOf(picture: Buffer): Promise<Corners> {
  const { data, info } = await sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const at = (fx: number, fy: number): Colour => {
    const from = (Math.floor(info.height * fy) * info.width + Math.floor(info.width * fx)) * info.channels;
    return [data[from] ?? 0, data[from + 1] ?? 0, data[from + 2] ?? 0];
  };
  return [at(0.15, 0.15), at(0.85, 0.15), at(0.15, 0.85), at(0.85, 0.85)];
}

/** Largest difference of any channel between two sets of corners. */
export function cornerDistance(a: Corners, b: Corners): number {
  return Math.max(...a.flatMap((colour, i) => colour.map((value, j) => Math.abs(value - (b[i]?.[j] ?? 0)))));
}

/** A committed fixture. */
export function fixture(name: string): Buffer {
  return readFileSync(join(import.meta.dirname, '..', 'fixtures', 'photos', name));
}

export const CAMERA_TAGS = {
  IFD2: {
    DateTimeOriginal: '2026:03:01 10:11:12',
    OffsetTimeOriginal: '+02:00',
    FocalLength: '57/10',
    FocalLengthIn35mmFilm: '26',
  },
  IFD3: {
    GPSLatitudeRef: 'S',
    GPSLatitude: '51/1 30/1 3230/100',
    GPSLongitudeRef: 'W',
    GPSLongitude: '0/1 7/1 3950/100',
  },
} as const;

/** A PNG whose header announces a size that its few bytes of data do not fill. */
export function announcedPng(width: number, height: number): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 2, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.alloc(1_000_000))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** A PNG with an animation control chunk before its picture data. */
export async function animatedPng(): Promise<Buffer> {
  const still = await quarters(40, 40, [RED, GREEN, BLUE, YELLOW]).png().toBuffer();
  const control = Buffer.alloc(8);
  control.writeUInt32BE(2, 0);
  const afterHeader = 8 + 25;
  return Buffer.concat([still.subarray(0, afterHeader), chunk('acTL', control), still.subarray(afterHeader)]);
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const whole = Buffer.alloc(body.length + 8);
  whole.writeUInt32BE(data.length, 0);
  whole.set(body, 4);
  whole.writeUInt32BE(crc32(body), body.length + 4);
  return whole;
}

/** CRC-32 of PNG (ISO/IEC 15948, annex D). */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ ((crc & 1) * 0xedb88320);
  }
  return (crc ^ 0xffffffff) >>> 0;
}
