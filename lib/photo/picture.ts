/** A grey picture, row by row; pixel centres at whole numbers, origin at the centre of the top left pixel. */
export interface GreyPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly values: Uint8Array | Uint8ClampedArray;
}
