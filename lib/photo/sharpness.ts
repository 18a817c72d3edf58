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

/** Gradient by central differences at a pixel off the border. */
function gradientAt(values: GreyPicture['values'], at: number, widthPx: number): readonly [number, number] {
  const gx = ((values[at + 1] ?? 0) - (values[at - 1] ?? 0)) / 2;
  const gy = ((values[at + widthPx] ?? 0) - (values[at - widthPx] ?? 0)) / 2;
  return [gx, gy];
}

/**
 * Blur of an edge at a pixel from how its gradient falls to both sides: along the gradient of a Gaussian edge the
 * logarithm of the gradient is a parabola of bend −1/s². Null where the pixel is not the crest of an edge.
 */
function blurAt(
  values: GreyPicture['values'],
  at: number,
  widthPx: number,
  [gx, gy]: readonly [number, number],
): number | null {
  const size = Math.hypot(gx, gy);
  const alongX = Math.abs(gx) >= Math.abs(gy);
  // A step to the next column or row, and along the other axis in proportion, is 1/cos of the angle long.
  const lean = alongX ? gy / gx : gx / gy;
  const length = Math.hypot(1, lean);
  const sized = (step: number): number => {
    const other = step * lean;
    const low = Math.floor(other);
    const share = other - low;
    const place = (k: number) => (alongX ? at + step + k * widthPx : at + step * widthPx + k);
    // The part of the gradient along the edge’s own direction; a corner nearby has another.
    const one = (k: number) => {
      const [hx, hy] = gradientAt(values, place(k), widthPx);
      return (hx * gx + hy * gy) / size;
    };
    return (1 - share) * one(low) + share * one(low + 1);
  };
  const [near, far] = [
    [sized(-1), sized(1)],
    [sized(-2), sized(2)],
  ] as const;
  if (Math.min(...near) <= 0 || Math.max(...near, ...far) > size || far[0] > near[0] || far[1] > near[1])
    return null;
  // Where the fall over one pixel is small against rounding, that over two is read.
  const [step, pair] = near[0] + near[1] > 1.4 * size && Math.min(...far) > 0 ? [2, far] : [1, near];
  const fall = Math.log(size) - (Math.log(pair[0]) + Math.log(pair[1])) / 2;
  if (!(fall > 0)) return null;
  const variance = (step * length) ** 2 / (2 * fall) - DIFFERENCE_VARIANCE;
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
  for (let y = Math.max(within.top, FRAME); y <= Math.min(within.bottom, heightPx - 1 - FRAME); y += 1) {
    for (let x = Math.max(within.left, FRAME); x <= Math.min(within.right, widthPx - 1 - FRAME); x += 1) {
      const at = y * widthPx + x;
      const gradient = gradientAt(values, at, widthPx);
      if (Math.hypot(...gradient) < least) continue;
      const blur = blurAt(values, at, widthPx, gradient);
      if (blur === null) continue;
      const turn = Math.atan2(gradient[1], gradient[0]) / Math.PI + 1 + 0.5 / DIRECTIONS;
      const kept = found[Math.floor((turn % 1) * DIRECTIONS)];
      if (kept !== undefined && kept.length < EDGES_MAX) kept.push(blur);
    }
  }
  const told = found
    .filter((blurs) => blurs.length >= EDGES_MIN)
    .map((blurs) => quantileOf(blurs, SHARPEST_SHARE));
  return told.length === 0 ? null : Math.max(...told);
}
