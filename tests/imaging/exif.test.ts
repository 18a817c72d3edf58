import { describe, expect, it } from 'vitest';
import { readExif } from '../../lib/imaging/server/exif.ts';

/** A TIFF block with one folder of fields, an EXIF folder and a GPS folder, in either byte order. */
function block(little: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(400));
  let end = 200;
  const folder = (
    at: number,
    fields: ReadonlyArray<readonly [number, number, number, number[] | string]>,
  ) => {
    view.setUint16(at, fields.length, little);
    fields.forEach(([tag, type, count, value], i) => {
      const place = at + 2 + i * 12;
      view.setUint16(place, tag, little);
      view.setUint16(place + 2, type, little);
      view.setUint32(place + 4, count, little);
      const size = (type === 2 ? 1 : type === 3 ? 2 : type === 5 ? 8 : 4) * count;
      const target = size <= 4 ? place + 8 : end;
      if (size > 4) {
        view.setUint32(place + 8, end, little);
        end += size;
      }
      const numbers = typeof value === 'string' ? [...Buffer.from(`${value}\0`, 'latin1')] : value;
      for (const [j, n] of numbers.entries()) {
        if (type === 2) view.setUint8(target + j, n);
        else if (type === 3) view.setUint16(target + j * 2, n, little);
        else view.setUint32(target + j * 4, n, little);
      }
    });
  };
  view.setUint16(0, little ? 0x4949 : 0x4d4d);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  folder(8, [
    [0x0112, 3, 1, [6]],
    [0x8769, 4, 1, [60]],
    [0x8825, 4, 1, [120]],
  ]);
  folder(60, [
    [0x9003, 2, 20, '2026:03:01 10:11:12'],
    [0x920a, 5, 1, [57, 10]],
    [0xa405, 3, 1, [26]],
  ]);
  folder(120, [
    [1, 2, 2, 'S'],
    [2, 5, 3, [51, 1, 30, 1, 3230, 100]],
    [3, 2, 2, 'E'],
    [4, 5, 3, [0, 1, 7, 1, 3950, 100]],
  ]);
  return new Uint8Array(view.buffer);
}

const EXPECTED = {
  orientation: 6,
  capturedAt: '2026-03-01T10:11:12',
  focalLengthMm: 5.7,
  focalLength35Mm: 26,
  location: {
    GPSLatitudeRef: 'S',
    GPSLatitude: '51/1 30/1 3230/100',
    GPSLongitudeRef: 'E',
    GPSLongitude: '0/1 7/1 3950/100',
  },
};

describe('reading EXIF', () => {
  it('gives the same from both byte orders, with or without the prefix', () => {
    expect(readExif(block(true))).toEqual(EXPECTED);
    expect(readExif(block(false))).toEqual(EXPECTED);
    expect(readExif(Buffer.concat([Buffer.from('Exif\0\0'), block(false)]))).toEqual(EXPECTED);
  });

  it('gives orientation 1 alone for nothing, rubbish and an orientation out of range', () => {
    expect(readExif(undefined)).toEqual({ orientation: 1 });
    expect(readExif(Buffer.from('rubbish, and long enough'))).toEqual({ orientation: 1 });
    const wrong = block(true);
    wrong[8 + 2 + 8] = 9;
    expect(readExif(wrong).orientation).toBe(1);
  });

  it('never throws, wherever a block is cut or overwritten', () => {
    for (let n = 0; n < 400; n += 1) {
      expect(() => readExif(block(n % 2 === 0).subarray(0, n))).not.toThrow();
      const broken = block(n % 2 === 0);
      broken[n] = 0xff;
      expect(() => readExif(broken)).not.toThrow();
    }
  });
});
