import { createHash } from 'node:crypto';
import { constants, crc32, deflateSync } from 'node:zlib';
import type { Detail } from './details.ts';

/** Side of a drawn dial, px. */
const SIDE_PX = 480;
const CENTRE_PX = SIDE_PX / 2;
const FACE_PX = 215;
/** One turn of the needle is one millimetre, twenty divisions. */
const DIVISIONS = 20;

/** Which of the seven bars of a digit are lit, from the top clockwise, the middle one last. */
const BARS: readonly string[] = [
  '1111110',
  '0110000',
  '1101101',
  '1111001',
  '0110011',
  '1011011',
  '1011111',
  '1110000',
  '1111111',
  '1111011',
];
/** Each bar of a digit 40 px wide and 70 px high: left, top, right, bottom. */
const BAR_AT: readonly (readonly [number, number, number, number])[] = [
  [4, 0, 36, 8],
  [32, 4, 40, 35],
  [32, 35, 40, 66],
  [4, 62, 36, 70],
  [0, 35, 8, 66],
  [0, 4, 8, 35],
  [4, 31, 36, 39],
];
const DIGIT_WIDTH_PX = 54;
const WINDOW_TOP_PX = 290;

/** Brightness, 0 to 255, of the whole millimetres in their window; undefined outside of it. */
function windowAt(x: number, y: number, digits: string): number | undefined {
  const width = digits.length * DIGIT_WIDTH_PX;
  const [left, top] = [CENTRE_PX - width / 2 - 12, WINDOW_TOP_PX];
  if (x < left || x > left + width + 10 || y < top - 12 || y > top + 82) return undefined;
  const place = Math.floor((x - left - 12) / DIGIT_WIDTH_PX);
  const [inX, inY] = [x - left - 12 - place * DIGIT_WIDTH_PX, y - top];
  const bars = BARS[Number(digits[place] ?? '')] ?? '';
  const lit = BAR_AT.some(
    ([l, t, r, b], i) => bars[i] === '1' && inX >= l && inX <= r && inY >= t && inY <= b,
  );
  return lit ? 25 : 205;
}

/** Brightness of the dial face: rim, divisions (long at every quarter), needle. */
function faceAt(dx: number, dy: number, needle: number): number {
  const radius = Math.hypot(dx, dy);
  if (radius > FACE_PX + 14) return 96;
  if (radius > FACE_PX) return 40;
  const turn = (Math.atan2(dx, -dy) / (2 * Math.PI) + 1) % 1;
  const off = Math.abs(((turn * DIVISIONS + 0.5) % 1) - 0.5) * ((2 * Math.PI * radius) / DIVISIONS);
  const quarter = Math.round(turn * DIVISIONS) % (DIVISIONS / 4) === 0;
  if (radius > FACE_PX - (quarter ? 52 : 30) && radius < FACE_PX - 6 && off < (quarter ? 3.2 : 1.8))
    return 30;
  const along = dx * Math.sin(needle) - dy * Math.cos(needle);
  const across = Math.abs(dx * Math.cos(needle) + dy * Math.sin(needle));
  if (radius < 14 || (along > -45 && along < FACE_PX - 18 && across < 4.5 * (1 - along / (FACE_PX + 30))))
    return 20;
  return 228;
}

/** A greyscale PNG (ISO/IEC 15948) of these rows; run lengths alone, so that every machine packs the same bytes. */
function png(rows: readonly Uint8Array[]): Buffer {
  const chunk = (type: string, data: Uint8Array) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    check.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, check]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(SIDE_PX, 0);
  header.writeUInt32BE(SIDE_PX, 4);
  header.set([8, 0, 0, 0, 0], 8);
  const packed = deflateSync(Buffer.concat(rows.map((row) => Buffer.concat([Buffer.of(0), row]))), {
    strategy: constants.Z_RLE,
  });
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', packed),
    chunk('IEND', new Uint8Array()),
  ]);
}

/**
 * A drawn photo of a depth gauge that shows `valueMm` (0 and up): whole millimetres in the window, one turn of the needle
 * for a millimetre. `number` tells photos of the same value apart.
 */
export function dialPhoto(valueMm: number, number: number): Detail {
  const digits = String(Math.floor(valueMm + 1e-9));
  const needle = 2 * Math.PI * (valueMm % 1);
  const rows = Array.from({ length: SIDE_PX }, (_, y) =>
    Uint8Array.from({ length: SIDE_PX }, (__, x) => {
      // The photo's number as dots in a corner: no two photos are the same file.
      if (y < 4 && x < 128 && x % 8 < 4) return (number >> (x >> 3)) & 1 ? 120 : 96;
      return windowAt(x, y, digits) ?? faceAt(x - CENTRE_PX, y - CENTRE_PX, needle);
    }),
  );
  const content = png(rows);
  return {
    file: `gauge-${number}.png`,
    sha256: createHash('sha256').update(content).digest('hex'),
    bytes: content.length,
    widthPx: SIDE_PX,
    heightPx: SIDE_PX,
    content,
  };
}
