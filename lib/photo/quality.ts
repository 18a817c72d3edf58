import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { FiguresNear } from '../record/index.ts';
import {
  checkPicture,
  type GreyPicture,
  lightTable,
  noiseIn,
  type PictureWindow,
  windowAround,
} from './grey.ts';
import type { Point } from './homography.ts';
import { edgeBlur } from './sharpness.ts';

/** Figures of a picture or of a part of it, taken from the values as stored, 0 to 255. */
export interface PictureFigures {
  /** Variance of the Laplacian: higher is sharper for the same scene; it grows with the square of the contrast. */
  readonly laplacianVariance: number;
  /** Blur of the sharpest edges, standard deviation in px, whatever their contrast; null where there are too few. */
  readonly edgeBlurPx: number | null;
  /** Share of pixels at 0 or below the low limit, and at 255 or above the high limit, limits included. */
  readonly shadowShare: number;
  readonly highlightShare: number;
  /** Mean value, 0 to 255. */
  readonly brightness: number;
  /** Standard deviation of the noise of single pixels, of 255; see `noiseIn`. */
  readonly noise: number;
}

/** Values from which on a pixel counts as clipped, both included. */
const CLIP_LOW = 0;
const CLIP_HIGH = 255;

function checkWindow(picture: GreyPicture, within: PictureWindow): Problem | null {
  const { left, top, right, bottom } = within;
  const whole = [left, top, right, bottom].every(Number.isInteger);
  const inside = left >= 0 && top >= 0 && right < picture.widthPx && bottom < picture.heightPx;
  return whole && inside && right - left >= 2 && bottom - top >= 2
    ? null
    : problem(
        'picture-window',
        'within',
        within,
        `A window is 3 px or more each way and lies on the picture of ${picture.widthPx} × ${picture.heightPx} px`,
        'Take it with windowAround.',
      );
}

/** The window to take figures from; the whole picture where none is given. */
function checkedWindow(picture: GreyPicture, within: PictureWindow | null): Result<PictureWindow, Problem> {
  const checked = checkPicture(picture);
  if (!checked.ok) return checked;
  const window = within ?? { left: 0, top: 0, right: picture.widthPx - 1, bottom: picture.heightPx - 1 };
  const wrong = checkWindow(picture, window);
  return wrong === null ? ok(window) : fail(wrong);
}

/**
 * Population variance of the Laplacian over a window (LAPV: Pech-Pacheco and others, ICPR 2000), with the kernel
 * 0 1 0 / 1 −4 1 / 0 1 0. At the border of the picture rows and columns are mirrored without repeating the last, which
 * makes an even slope look like an edge there.
 */
function laplacianVariance(
  { widthPx, heightPx, values }: GreyPicture,
  { left, top, right, bottom }: PictureWindow,
): number {
  const mirrored = (i: number, size: number) => (i < 0 ? -i : i >= size ? 2 * size - 2 - i : i);
  let [count, sum, squares] = [0, 0, 0];
  for (let y = top; y <= bottom; y += 1) {
    const row = y * widthPx;
    const above = mirrored(y - 1, heightPx) * widthPx;
    const below = mirrored(y + 1, heightPx) * widthPx;
    for (let x = left; x <= right; x += 1) {
      const beside =
        (values[row + mirrored(x - 1, widthPx)] ?? 0) + (values[row + mirrored(x + 1, widthPx)] ?? 0);
      const value = beside + (values[above + x] ?? 0) + (values[below + x] ?? 0) - 4 * (values[row + x] ?? 0);
      count += 1;
      sum += value;
      squares += value * value;
    }
  }
  // Values are whole numbers below 2^11 and their squares add up exactly, so nothing cancels.
  return squares / count - (sum / count) ** 2;
}

/**
 * Quality figures of a picture, or of a window in it (`windowAround` gives one near a mark). They say nothing about
 * what is in the picture; `judgeQuality` compares them with the limits. Fails for a picture or window that is none.
 */
export function pictureFigures(
  picture: GreyPicture,
  within: PictureWindow | null = null,
): Result<PictureFigures, Problem> {
  const checked = checkedWindow(picture, within);
  if (!checked.ok) return checked;
  const window = checked.value;
  let [sum, count, lows, highs] = [0, 0, 0, 0];
  for (let y = window.top; y <= window.bottom; y += 1) {
    for (let x = window.left; x <= window.right; x += 1) {
      const value = picture.values[y * picture.widthPx + x] ?? 0;
      sum += value;
      count += 1;
      if (value <= CLIP_LOW) lows += 1;
      if (value >= CLIP_HIGH) highs += 1;
    }
  }
  const noise = noiseIn(picture, window, lightTable('linear'));
  return ok({
    laplacianVariance: laplacianVariance(picture, window),
    edgeBlurPx: edgeBlur(picture, window, noise),
    shadowShare: lows / count,
    highlightShare: highs / count,
    brightness: sum / count,
    noise,
  });
}

/** How far round a mark its photo is judged, px. */
const NEAR_PX = 40;

/** What a photo is judged by near the points of a mark, for the record. Fails as `pictureFigures` does. */
export function figuresNear(picture: GreyPicture, points: readonly Point[]): Result<FiguresNear, Problem> {
  const figures = pictureFigures(picture, windowAround(picture, points, NEAR_PX));
  if (!figures.ok) return figures;
  const { edgeBlurPx, highlightShare, shadowShare, brightness } = figures.value;
  return ok({ edgeBlurPx, highlightShare, shadowShare, brightness });
}
