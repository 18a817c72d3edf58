import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { greyPicture } from '../../lib/imaging/server/index.ts';
import { upright } from '../../lib/photo/index.ts';

// Reference: libvips’ turning by the tag (sharp’s autoOrient), an own implementation of EXIF 2.32, tag 0x0112.
describe('a picture as stored turned upright', () => {
  const [width, height] = [5, 3];
  const values = Uint8Array.from({ length: width * height }, (_, i) => 10 + 16 * i);
  for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8]) {
    it(`orientation ${orientation} as libvips turns it`, async () => {
      const file = await sharp(values, { raw: { width, height, channels: 1 } })
        .withMetadata({ orientation })
        .tiff({ compression: 'none' })
        .toBuffer();
      const reference = await greyPicture(file);
      const own = upright({ widthPx: width, heightPx: height, values }, orientation);
      expect([own.widthPx, own.heightPx]).toEqual([reference.widthPx, reference.heightPx]);
      expect([...own.values]).toEqual([...reference.values]);
    });
  }
  it('leaves a picture with a tag out of range as it stands', () => {
    const picture = { widthPx: width, heightPx: height, values };
    expect(upright(picture, 9)).toBe(picture);
  });
});
