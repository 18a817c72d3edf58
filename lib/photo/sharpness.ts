import { type GreyPicture, type PictureWindow, quantileOf } from './grey.ts';

/** An edge counts when its gradient is this many times the noise of a gradient. Own choice. */
const GRADIENT_TO_NOISE = 8;
/** And this many values per px, because the rounding of stored values makes weak gradients look steep. Own choice. */
const GRADIENT_MIN = 3;
/** Fewest edges in a direction for its blur to be told. Own choice. */
const EDGES_MIN = 40;
/** Of the edges of a direction the sharpest share is read: paint, welds and shade have soft edges in focus as well. */
const SHARPEST_SHARE = 0.1;
/** Gradients are put into four directions 45° apart, because a shaken picture is sharp along the shake. */
const DIRECTIONS = 4;
/** Blur that taking differences over two pixels adds, px²: two pixels square, 2²/12. */
const DIFFERENCE_VARIANCE = 1 / 3;
/** Widest blur told: beyond it the fall over two pixels is lost in rounding, px. */
const BLUR_MAX_PX = 6;

/** Edges kept of one direction; those that come later say nothing new. */
const EDGES_MAX = 20_000;

/** Pixels looked at; of a larger window every so-many-th row is taken. */
const PIXELS_MAX = 200_000;

/**
 * Blur of an edge at a pixel from how its gradient falls to both sides: along the gradient of a Gaussian edge the
 * logarithm of the gradient is a parabola of bend −1/s². NaN where the pixel is not the crest of an edge. Gradients are
 * central differences. Written without making anything on the way: it is asked for every pixel of an edge.
 */
function blurAt(
  values: GreyPicture['values'],
  at: number,
  widthPx: number,
  gx: number,
  gy: number,
  size: number,
): number {
  const alongX = Math.abs(gx) >= Math.abs(gy);
  // A step to the next column or row, and along the other axis in proportion, is 1/cos of the angle long.
  const lean = alongX ? gy / gx : gx / gy;
  // The part of the gradient along the edge’s own direction; a corner nearby has another.
  const part = (place: number): number => {
    const hx = ((values[place + 1] ?? 0) - (values[place - 1] ?? 0)) / 2;
    const hy = ((values[place + widthPx] ?? 0) - (values[place - widthPx] ?? 0)) / 2;
    return (hx * gx + hy * gy) / size;
  };
  const sized = (step: number): number => {
    const low = Math.floor(step * lean);
    const share = step * lean - low;
    const first = alongX ? at + step + low * widthPx : at + step * widthPx + low;
    return (1 - share) * part(first) + share * part(first + (alongX ? widthPx : 1));
  };
  const [before, after] = [sized(-1), sized(1)];
  if (before <= 0 || after <= 0 || before > size || after > size) return Number.NaN;
  const [farBefore, farAfter] = [sized(-2), sized(2)];
  if (farBefore > before || farAfter > after) return Number.NaN;
  // Where the fall over one pixel is small against rounding, that over two is read.
  const two = before + after > 1.4 * size && farBefore > 0 && farAfter > 0;
  const fall =
    Math.log(size) -
    (two ? Math.log(farBefore) + Math.log(farAfter) : Math.log(before) + Math.log(after)) / 2;
  if (!(fall > 0)) return Number.NaN;
  const variance = ((two ? 4 : 1) * (1 + lean * lean)) / (2 * fall) - DIFFERENCE_VARIANCE;
  return Math.min(BLUR_MAX_PX, Math.sqrt(Math.max(0, variance)));
}

/**
 * Blur of the sharpest edges in a window, standard deviation of a Gaussian in px; null where too few edges stand out of
 * the noise. It is the ratio of gradients on the same edge, so that contrast and light cancel, which they do not in the
 * variance of the Laplacian; the widths of edges as a measure of blur: Marziliano and others, ICIP 2002. Edges are told
 * apart by direction and the worst direction counts, so that a shaken picture is not taken for a sharp one.
 * On pale edges noise makes it read up to a third too sharp. `noise`: standard deviation of single pixels.
 */
export function edgeBlur(picture: GreyPicture, within: PictureWindow, noise: number): number | null {
  const { widthPx, heightPx, values } = picture;
  // Half a difference of two pixels has 1/√2 of their noise.
  const least = Math.max(GRADIENT_MIN, (GRADIENT_TO_NOISE * noise) / Math.SQRT2);
  const found: number[][] = Array.from({ length: DIRECTIONS }, () => []);
  const FRAME = 4;
  const [left, right] = [Math.max(within.left, FRAME), Math.min(within.right, widthPx - 1 - FRAME)];
  const [top, bottom] = [Math.max(within.top, FRAME), Math.min(within.bottom, heightPx - 1 - FRAME)];
  const rowStep = Math.max(1, Math.ceil(((right - left + 1) * (bottom - top + 1)) / PIXELS_MAX));
  for (let y = top; y <= bottom; y += rowStep) {
    for (let x = left; x <= right; x += 1) {
      const at = y * widthPx + x;
      const gx = ((values[at + 1] ?? 0) - (values[at - 1] ?? 0)) / 2;
      const gy = ((values[at + widthPx] ?? 0) - (values[at - widthPx] ?? 0)) / 2;
      const square = gx * gx + gy * gy;
      if (square < least * least) continue;
      const blur = blurAt(values, at, widthPx, gx, gy, Math.sqrt(square));
      if (Number.isNaN(blur)) continue;
      const turn = Math.atan2(gy, gx) / Math.PI + 1 + 0.5 / DIRECTIONS;
      const kept = found[Math.floor((turn % 1) * DIRECTIONS)];
      if (kept !== undefined && kept.length < EDGES_MAX) kept.push(blur);
    }
  }
  const told = found
    .filter((blurs) => blurs.length >= EDGES_MIN)
    .map((blurs) => quantileOf(blurs, SHARPEST_SHARE));
  return told.length === 0 ? null : Math.max(...told);
}
