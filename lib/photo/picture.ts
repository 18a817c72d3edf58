/** A grey picture, row by row; pixel centres at whole numbers, origin at the centre of the top left pixel. */
export interface GreyPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly values: Uint8Array | Uint8ClampedArray;
}

/**
 * The grey picture of colours given as 8-bit red, green and blue in turn, `channels` values a pixel: luma of ITU-R
 * BT.601 in whole numbers.
 */
export function greyFromColours(
  widthPx: number,
  heightPx: number,
  colours: Uint8Array | Uint8ClampedArray,
  channels: 3 | 4,
): GreyPicture {
  const values = new Uint8Array(widthPx * heightPx);
  for (let i = 0, at = 0; i < values.length; i += 1, at += channels) {
    values[i] =
      ((colours[at] ?? 0) * 77 + (colours[at + 1] ?? 0) * 150 + (colours[at + 2] ?? 0) * 29 + 128) >> 8;
  }
  return { widthPx, heightPx, values };
}
