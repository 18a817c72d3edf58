import sharp from 'sharp';
import { type GreyPicture, greyFromColours } from '../../photo/index.ts';

/** The upright grey picture of a photo, as the device’s worker makes it. Throws what the decoder throws. */
export async function greyPicture(bytes: Uint8Array): Promise<GreyPicture> {
  const { data, info } = await sharp(bytes)
    .autoOrient()
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return greyFromColours(info.width, info.height, data, 3);
}
