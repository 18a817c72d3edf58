import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { Point } from './homography.ts';

/** A grey picture: values 0 to 255 row by row, pixel centres at whole numbers, origin at the centre of the top left pixel. */
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

/**
 * A picture as stored, turned upright by its EXIF orientation (EXIF 2.32, tag 0x0112): 1 as it stands, 2 mirrored,
 * 3 turned by 180°, 4 flipped, 5 mirrored and turned, 6 turned clockwise, 7 mirrored and turned, 8 turned
 * counter-clockwise. Anything else counts as 1.
 */
export function upright(picture: GreyPicture, orientation: number): GreyPicture {
  const { widthPx, heightPx, values } = picture;
  const [right, down] = [1, widthPx];
  const last = widthPx * heightPx - 1;
  // Where the first pixel is taken from, and how far one steps for a column and for a row of the upright picture.
  const ways: Readonly<Record<number, readonly [number, number, number]>> = {
    2: [widthPx - 1, -right, down],
    3: [last, -right, -down],
    4: [last - widthPx + 1, right, -down],
    5: [0, down, right],
    6: [last - widthPx + 1, -down, right],
    7: [last, -down, -right],
    8: [widthPx - 1, down, -right],
  };
  const way = ways[orientation];
  if (way === undefined) return picture;
  const [first, column, row] = way;
  const [wide, high] = orientation > 4 ? [heightPx, widthPx] : [widthPx, heightPx];
  const turned = new Uint8Array(values.length);
  for (let y = 0, to = 0; y < high; y += 1) {
    for (let x = 0, from = first + y * row; x < wide; x += 1, to += 1, from += column) {
      turned[to] = values[from] ?? 0;
    }
  }
  return { widthPx: wide, heightPx: high, values: turned };
}

/**
 * How the values stand for light. `sRGB`: as photos are stored; `linear`: in proportion to light. A lens blurs light,
 * not stored values, so edges and areas are taken in light: on stored values a blurred edge moves towards its dark side.
 */
export type Encoding = 'sRGB' | 'linear';

/** Part of a picture: columns `left` to `right` and rows `top` to `bottom`, all inclusive, px. */
export interface PictureWindow {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Smallest side of a picture or window that figures are taken from, px. */
const PICTURE_SIDE_MIN_PX = 3;

/** Light of each stored value on a scale of 0 to 255 (sRGB: IEC 61966-2-1). */
export function lightTable(encoding: Encoding): Float64Array {
  return Float64Array.from({ length: 256 }, (_, value) => {
    if (encoding === 'linear') return value;
    const share = value / 255;
    return 255 * (share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4);
  });
}

/** Fails when a picture’s sides are not whole numbers of 3 or more, or its values are not one for each pixel. */
export function checkPicture(picture: GreyPicture): Result<GreyPicture, Problem> {
  const { widthPx, heightPx, values } = picture;
  for (const [field, side] of [
    ['picture.widthPx', widthPx],
    ['picture.heightPx', heightPx],
  ] as const) {
    if (!Number.isInteger(side) || side < PICTURE_SIDE_MIN_PX) {
      return fail(
        problem(
          'picture-side',
          field,
          side,
          `A picture is ${PICTURE_SIDE_MIN_PX} px or more each way`,
          'Give the size of the decoded picture.',
        ),
      );
    }
  }
  return values.length === widthPx * heightPx
    ? ok(picture)
    : fail(
        problem(
          'picture-values',
          'picture.values',
          `${values.length} values for ${widthPx} × ${heightPx} px`,
          'A grey picture has one value for each pixel',
          'Give one channel, row by row.',
        ),
      );
}

/** Fails when a point is not two numbers inside the picture. */
export function checkInside(picture: GreyPicture, field: string, [x, y]: Point): Result<Point, Problem> {
  const inside = x >= 0 && y >= 0 && x <= picture.widthPx - 1 && y <= picture.heightPx - 1;
  return inside
    ? ok([x, y])
    : fail(
        problem(
          'picture-point',
          field,
          [x, y],
          `The point does not lie on the picture of ${picture.widthPx} × ${picture.heightPx} px`,
          'Pick a point on the picture.',
        ),
      );
}

/** The window round points with a margin, px, cut to the picture; the whole picture for no points. */
export function windowAround(
  picture: GreyPicture,
  points: readonly Point[],
  marginPx: number,
): PictureWindow {
  const whole = { left: 0, top: 0, right: picture.widthPx - 1, bottom: picture.heightPx - 1 };
  if (points.length === 0) return whole;
  const ends = (k: 0 | 1, most: number): [number, number] => {
    let [low, high] = [most, 0];
    for (const point of points) {
      low = Math.min(low, Math.floor(point[k] - marginPx));
      high = Math.max(high, Math.ceil(point[k] + marginPx));
    }
    // A window at the border is moved inwards until it is large enough.
    const first = Math.min(Math.max(0, low), most - (PICTURE_SIDE_MIN_PX - 1));
    return [first, Math.max(Math.min(most, high), first + PICTURE_SIDE_MIN_PX - 1)];
  };
  const [left, right] = ends(0, whole.right);
  const [top, bottom] = ends(1, whole.bottom);
  return { left, top, right, bottom };
}

/** Pixels that noise is told from; of a larger window every so-many-th row is taken. */
const NOISE_PIXELS_MAX = 40_000;

/**
 * Standard deviation of the noise of single pixels, in units of `light`, from the differences of second differences
 * both ways, which straight edges and even slopes leave at 0 (Immerkær, Computer Vision and Image Understanding 64,
 * 1996), by their median, so that corners do not count (0.6745: median of |z| of a normal z). White noise is assumed:
 * what JPEG or a phone has smoothed reads too low. Never below the rounding to whole values, a step divided by √12.
 */
export function noiseIn(picture: GreyPicture, within: PictureWindow, light: Float64Array): number {
  const { widthPx, values } = picture;
  const [columns, rows] = [within.right - within.left - 1, within.bottom - within.top - 1];
  const rowStep = Math.max(1, Math.ceil((columns * rows) / NOISE_PIXELS_MAX));
  const found = new Float64Array(columns * Math.ceil(rows / rowStep));
  let [count, sum] = [0, 0];
  const row = (start: number, middle: number) =>
    (light[values[start - 1] ?? 0] ?? 0) +
    middle * (light[values[start] ?? 0] ?? 0) +
    (light[values[start + 1] ?? 0] ?? 0);
  for (let y = within.top + 1; y < within.bottom; y += rowStep) {
    for (let x = within.left + 1; x < within.right; x += 1) {
      const at = y * widthPx + x;
      found[count] = Math.abs(row(at - widthPx, -2) - 2 * row(at, -2) + row(at + widthPx, -2));
      count += 1;
      sum += values[at] ?? 0;
    }
  }
  const mean = Math.min(254, Math.max(1, Math.round(sum / count)));
  const step = ((light[mean + 1] ?? 0) - (light[mean - 1] ?? 0)) / 2;
  // The squares of the nine weights add up to 36.
  return Math.max(medianOf(found) / (0.6745 * 6), step / Math.sqrt(12));
}

/** Median; NaN for no values. */
export function medianOf(values: ArrayLike<number>): number {
  return quantileOf(values, 0.5);
}

/** Quantile by linear interpolation between order statistics (type 7 of Hyndman and Fan, 1996); NaN for no values. */
export function quantileOf(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort();
  const place = share * (sorted.length - 1);
  const [low, high] = [sorted[Math.floor(place)], sorted[Math.ceil(place)]];
  return low === undefined || high === undefined ? Number.NaN : low + (high - low) * (place % 1);
}

/** Standard deviation by the median of distances from the median (for normal values); NaN for no values. */
export function spreadOf(values: readonly number[]): number {
  const middle = medianOf(values);
  return 1.4826 * medianOf(values.map((value) => Math.abs(value - middle)));
}
