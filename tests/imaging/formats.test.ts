import { describe, expect, it } from 'vitest';
import {
  PHOTO_BYTES_MAX,
  PHOTO_NAME_CHARS_MAX,
  photoFormat,
  photoLabel,
  photoPixelsProblem,
  photoSizeProblem,
} from '../../lib/photo/index.ts';
import { animatedPng, BLUE, fixture, GREEN, quarters, RED, YELLOW } from './pictures.ts';

function codeOf(bytes: Uint8Array): string {
  const format = photoFormat(bytes);
  return format.ok ? format.value : format.error.code;
}

describe('telling formats by content', () => {
  it('knows JPEG, PNG, WebP, AVIF and HEIC', async () => {
    const picture = quarters(40, 40, [RED, GREEN, BLUE, YELLOW]);
    expect(codeOf(await picture.clone().jpeg().toBuffer())).toBe('jpeg');
    expect(codeOf(await picture.clone().png().toBuffer())).toBe('png');
    expect(codeOf(await picture.clone().webp().toBuffer())).toBe('webp');
    expect(codeOf(await picture.clone().avif().toBuffer())).toBe('avif');
    expect(codeOf(fixture('turned.heic'))).toBe('heic');
  });

  it.each([
    ['an SVG drawing', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'photo-format'],
    ['an SVG drawing after an XML line', '\uFEFF <?xml version="1.0"?><svg/>', 'photo-format'],
    ['a GIF', 'GIF89a....', 'photo-format'],
    ['a TIFF', 'II*\0....', 'photo-format'],
    ['a PDF', '%PDF-1.7', 'photo-format'],
    ['a web page', '<html><body>', 'photo-not-image'],
    ['text', 'hello', 'photo-not-image'],
    ['a video', '\0\0\0\x14ftypisom\0\0\0\0mp42', 'photo-format'],
    ['an AVIF sequence', '\0\0\0\x14ftypavis\0\0\0\0avif', 'photo-moving'],
  ])('refuses %s', (_, content, code) => {
    expect(codeOf(Buffer.from(content))).toBe(code);
  });

  it('refuses an animated PNG and an animated WebP', async () => {
    expect(codeOf(await animatedPng())).toBe('photo-moving');
    const frames = quarters(40, 80, [RED, RED, BLUE, BLUE]);
    const pages = await frames.gif().toBuffer();
    const { default: sharp } = await import('sharp');
    const joined = await sharp([pages, await frames.clone().negate().gif().toBuffer()], {
      join: { animated: true },
    })
      .webp({ loop: 0 })
      .toBuffer();
    expect(codeOf(joined)).toBe('photo-moving');
  });

  it('reads nothing past the end of very short files', () => {
    for (let length = 0; length < 40; length += 1) {
      for (const start of [
        [0xff, 0xd8],
        [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
        [0, 0, 0, 99, 0x66, 0x74, 0x79, 0x70],
      ]) {
        expect(() =>
          photoFormat(Uint8Array.from([...start, ...new Array(40).fill(0)].slice(0, length))),
        ).not.toThrow();
      }
    }
  });
});

describe('limits of a photo', () => {
  it('are 40 MB and 60 megapixels, both included', () => {
    expect(photoSizeProblem(0)?.code).toBe('photo-empty');
    expect(photoSizeProblem(PHOTO_BYTES_MAX)).toBeUndefined();
    expect(photoSizeProblem(PHOTO_BYTES_MAX + 1)?.code).toBe('photo-bytes');
    expect(photoPixelsProblem(10_000, 6000)).toBeUndefined();
    expect(photoPixelsProblem(10_000, 6001)).toMatchObject({
      code: 'photo-pixels',
      value: '10000 × 6001 pixels',
      wayOut: expect.stringContaining('lower resolution'),
    });
  });
});

describe('the name of a photo', () => {
  it.each([
    '../../etc/passwd',
    '/etc/passwd',
    '..\\boot.ini',
    '..',
    'a\0.jpg',
    'a\n.jpg',
    'a\u202egpj.exe',
    'x'.repeat(PHOTO_NAME_CHARS_MAX + 1),
  ])('is refused when it is %j', (name) => {
    const label = photoLabel(name);
    expect(!label.ok && label.error.code).toBe('photo-name');
  });

  it('is kept as it is when plain, and is "photo" when empty', () => {
    expect(photoLabel(' Flansch vorn, links.JPG ')).toEqual({ ok: true, value: 'Flansch vorn, links.JPG' });
    expect(photoLabel('x'.repeat(PHOTO_NAME_CHARS_MAX)).ok).toBe(true);
    expect(photoLabel('')).toEqual({ ok: true, value: 'photo' });
  });
});
