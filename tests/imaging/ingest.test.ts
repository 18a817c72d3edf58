import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../lib/base/index.ts';
import { DERIVATIVE_WIDTHS, readPhoto } from '../../lib/imaging/server/index.ts';
import {
  announcedPng,
  BLUE,
  CAMERA_TAGS,
  type Corners,
  cornerDistance,
  cornersOf,
  fixture,
  GREEN,
  grain,
  quarters,
  RED,
  STORED,
  YELLOW,
} from './pictures.ts';

const DROP = { keepLocation: false };
const UPRIGHT: Corners = [RED, GREEN, BLUE, YELLOW];
/** Lossy coding of pure colours moves a channel by a few counts; a wrong corner moves it by 255. */
const COLOUR_TOLERANCE = 40;

function opened<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message} ${result.error.value}`);
  return result.value;
}

describe('EXIF orientation', () => {
  for (const format of ['jpeg', 'webp', 'png'] as const) {
    it.each([1, 2, 3, 4, 5, 6, 7, 8])(
      `%i is made upright in every derived picture of a ${format}`,
      async (turn) => {
        const { corners, lying } = STORED[turn] ?? { corners: UPRIGHT, lying: false };
        const [width, height] = lying ? [300, 400] : [400, 300];
        const photo = await quarters(width, height, corners)
          .withMetadata({ orientation: turn })
          .toFormat(format, { quality: 95 })
          .toBuffer();
        const { facts, derivatives } = opened(await readPhoto(photo, DROP));
        expect(facts).toMatchObject({ format, width: 400, height: 300 });
        for (const size of DERIVATIVE_WIDTHS) {
          expect(cornerDistance(await cornersOf(derivatives[size]), UPRIGHT)).toBeLessThan(COLOUR_TOLERANCE);
        }
      },
    );
  }

  it('of an AVIF is that of its container', async () => {
    const { corners } = STORED[6] ?? { corners: UPRIGHT };
    const photo = await quarters(300, 400, corners)
      .withMetadata({ orientation: 6 })
      .avif({ quality: 90 })
      .toBuffer();
    const { facts, derivatives } = opened(await readPhoto(photo, DROP));
    expect([facts.width, facts.height]).toEqual([400, 300]);
    expect(cornerDistance(await cornersOf(derivatives[1024]), UPRIGHT)).toBeLessThan(COLOUR_TOLERANCE);
  });

  it('of a HEIC is that of its container, applied once', async () => {
    const { facts, derivatives } = opened(await readPhoto(fixture('turned.heic'), DROP));
    expect([facts.width, facts.height]).toEqual([240, 320]);
    expect(await sharp(derivatives[320]).metadata()).toMatchObject({ width: 240, height: 320 });
    expect(cornerDistance(await cornersOf(derivatives[320]), [BLUE, RED, YELLOW, GREEN])).toBeLessThan(
      COLOUR_TOLERANCE,
    );
  });
});

describe('facts of a photo', () => {
  it('are read from EXIF: time with its offset, focal lengths, presence of a position', async () => {
    const photo = await grain(300, 200).withExif(CAMERA_TAGS).jpeg().toBuffer();
    expect(opened(await readPhoto(photo, DROP)).facts).toEqual({
      format: 'jpeg',
      width: 300,
      height: 200,
      capturedAt: '2026-03-01T10:11:12+02:00',
      focalLengthMm: 5.7,
      focalLength35Mm: 26,
      locationPresent: true,
    });
  });

  it('are the same for a HEIC', async () => {
    expect(opened(await readPhoto(fixture('turned.heic'), DROP)).facts).toMatchObject({
      format: 'heic',
      capturedAt: '2026-03-01T10:11:12+02:00',
      focalLengthMm: 5.7,
      focalLength35Mm: 26,
      locationPresent: true,
    });
  });

  it('keep a time without a zone local, and leave out an impossible one', async () => {
    const taken = async (time: string) => {
      const tags = { IFD2: { DateTimeOriginal: time } };
      const photo = await grain(60, 40).withExif(tags).jpeg().toBuffer();
      return opened(await readPhoto(photo, DROP)).facts.capturedAt;
    };
    expect(await taken('2026:03:01 10:11:12')).toBe('2026-03-01T10:11:12');
    expect(await taken('2026:02:30 10:11:12')).toBeUndefined();
    expect(await taken('    :  :     :  :  ')).toBeUndefined();
  });

  it('leave out what a photo does not carry', async () => {
    const photo = await grain(60, 40).png().toBuffer();
    expect(opened(await readPhoto(photo, DROP)).facts).toEqual({
      format: 'png',
      width: 60,
      height: 40,
      locationPresent: false,
    });
  });

  it('survive EXIF blocks of any broken content', async () => {
    const whole = await grain(60, 40).withExif(CAMERA_TAGS).jpeg().toBuffer();
    const from = whole.indexOf('Exif\0\0') + 6;
    for (let n = 0; n < 60; n += 1) {
      const broken = Buffer.from(whole);
      for (let i = from + 8 + n * 3; i < from + 14 + n * 3; i += 1) broken[i] = (i * 37 + n * 11) & 0xff;
      const read = await readPhoto(broken, { keepLocation: true });
      expect(read.ok || read.error.code).toBe(true);
    }
  });
});

describe('derived pictures', () => {
  it('are 320, 1024 and 2048 pixels wide', async () => {
    const { derivatives } = opened(await readPhoto(await grain(2500, 1500).jpeg().toBuffer(), DROP));
    for (const width of DERIVATIVE_WIDTHS) {
      const found = await sharp(derivatives[width]).metadata();
      expect(found).toMatchObject({ format: 'webp', width });
      expect(Math.abs((found.height ?? 0) - (width * 1500) / 2500)).toBeLessThanOrEqual(1);
    }
  });

  it('are never larger than the original', async () => {
    const { derivatives } = opened(await readPhoto(await grain(500, 300).jpeg().toBuffer(), DROP));
    const widths = await Promise.all(
      DERIVATIVE_WIDTHS.map(async (width) => (await sharp(derivatives[width]).metadata()).width),
    );
    expect(widths).toEqual([320, 500, 500]);
  });

  it('drop the position and every other tag', async () => {
    const photo = await grain(400, 300).withExif(CAMERA_TAGS).jpeg().toBuffer();
    const { derivatives } = opened(await readPhoto(photo, DROP));
    for (const width of DERIVATIVE_WIDTHS) {
      const { exif, xmp, icc, iptc } = await sharp(derivatives[width]).metadata();
      expect([exif, xmp, icc, iptc]).toEqual([undefined, undefined, undefined, undefined]);
    }
  });

  it('keep the position, and nothing of the camera, where the site wants it', async () => {
    const photo = await grain(400, 300).withExif(CAMERA_TAGS).jpeg().toBuffer();
    const { derivatives } = opened(await readPhoto(photo, { keepLocation: true }));
    const kept = opened(await readPhoto(derivatives[320], DROP)).facts;
    expect(kept.locationPresent).toBe(true);
    expect(kept.capturedAt).toBeUndefined();
    const again = opened(await readPhoto(derivatives[320], { keepLocation: true }));
    const { readExif } = await import('../../lib/imaging/server/exif.ts');
    const { exif } = await sharp(again.derivatives[320]).metadata();
    expect(readExif(exif).location).toEqual(CAMERA_TAGS.IFD3);
  });

  it('are made of grey, transparent, sixteen-bit and CMYK pictures', async () => {
    const grey = await grain(60, 40).greyscale().png().toBuffer();
    const clear = await grain(60, 40).ensureAlpha(0.5).png().toBuffer();
    const deep = await grain(60, 40).toColourspace('rgb16').png().toBuffer();
    const print = await grain(60, 40).toColourspace('cmyk').jpeg().toBuffer();
    for (const photo of [grey, clear, deep, print]) {
      const { derivatives } = opened(await readPhoto(photo, DROP));
      expect((await sharp(derivatives[320]).metadata()).width).toBe(60);
    }
  });
});

describe('what is refused', () => {
  const cut = (photo: Buffer) => photo.subarray(0, Math.floor(photo.length * 0.6));
  async function codeOf(photo: Buffer): Promise<string> {
    const read = await readPhoto(photo, DROP);
    return read.ok ? 'taken' : read.error.code;
  }

  it('is a JPEG, PNG, WebP, AVIF or HEIC cut at 60 %, while the whole is taken', async () => {
    const picture = grain(640, 480);
    const photos = {
      jpeg: await picture.clone().jpeg().toBuffer(),
      progressive: await picture.clone().jpeg({ progressive: true }).toBuffer(),
      png: await picture.clone().png().toBuffer(),
      webp: await picture.clone().webp().toBuffer(),
      lossless: await picture.clone().webp({ lossless: true }).toBuffer(),
      avif: await picture.clone().avif().toBuffer(),
      heic: fixture('grain.heic'),
    };
    for (const [name, photo] of Object.entries(photos)) {
      expect([name, await codeOf(photo)]).toEqual([name, 'taken']);
      expect([name, await codeOf(cut(photo))]).toEqual([name, 'photo-damaged']);
    }
  });

  it('is a JPEG whose last tenth is missing, though large enough to be read scaled down', async () => {
    const photo = await grain(4300, 1200).jpeg().toBuffer();
    expect(await codeOf(photo.subarray(0, Math.floor(photo.length * 0.9)))).toBe('photo-damaged');
  });

  it('is a picture that announces too many pixels, before anything is decoded', async () => {
    const began = performance.now();
    expect(await codeOf(announcedPng(50_000, 50_000))).toBe('photo-pixels');
    expect(await codeOf(announcedPng(60_001, 1000))).toBe('photo-pixels');
    expect(performance.now() - began).toBeLessThan(2000);
  });

  it('is a picture that announces more than its data fill', async () => {
    expect(await codeOf(announcedPng(7000, 7000))).toBe('photo-damaged');
  });

  it('is a WebP whose header was changed to a huge size', async () => {
    const photo = await grain(64, 64).webp({ lossless: true }).toBuffer();
    const at = photo.indexOf('VP8L') + 9;
    photo.writeUInt32LE(0x0fffffff, at);
    expect(['photo-pixels', 'photo-damaged']).toContain(await codeOf(photo));
  });

  it('is an empty file, an SVG and a file that only claims to be a JPEG', async () => {
    expect(await codeOf(Buffer.alloc(0))).toBe('photo-empty');
    expect(await codeOf(Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'))).toBe('photo-format');
    expect(await codeOf(Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]))).toBe('photo-damaged');
  });

  it('is any file with random bytes after its beginning, without an exception', async () => {
    for (const name of ['turned.heic', 'grain.heic']) {
      const broken = Buffer.from(fixture(name));
      for (let i = 200; i < broken.length; i += 17) broken[i] = (i * 31) & 0xff;
      expect(await codeOf(broken)).toBe('photo-damaged');
    }
  });

  it('leaves the event loop free while a HEIC is decoded', async () => {
    let turns = 0;
    const timer = setInterval(() => {
      turns += 1;
    }, 2);
    await readPhoto(fixture('grain.heic'), DROP);
    clearInterval(timer);
    expect(turns).toBeGreaterThan(3);
  });
});
