import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { normalCdf } from '../units/index.ts';

/** One pixel of a strip across a crack. */
export interface StripPixel {
  /** Place across the crack, px. */
  readonly across: number;
  readonly light: number;
  readonly weight: number;
}

/** A dark line fitted to a strip. */
export interface FittedDip {
  readonly centre: number;
  /** Width of the dark line, px, and the standard deviation of its blur with the pixel’s own square in it, px. */
  readonly width: number;
  readonly blur: number;
  /** Standard uncertainty of the width from the scatter of the pixels, px. */
  readonly widthU: number;
  /** Light beside the line less the light in it, and the scatter about the model, of 255. */
  readonly depth: number;
  readonly scatter: number;
  /** Weighted sum of squared differences from the model, and the sum of the weights. */
  readonly squares: number;
  readonly effective: number;
}

/** Blur of the pixel’s own square, px²; no picture is sharper. */
export const PIXEL_VARIANCE = 1 / 12;
const BLUR_MAX_PX = 6;
const WIDTH_MIN_PX = 0.05;
const ROUNDS = 25;

/** The square of the width: a narrow line changes with it evenly, so that the fit does not crawl towards 0. */
type Unknowns = readonly [centre: number, squaredWidth: number, blur: number];

/** A symmetric matrix from its lower half; a thousandth of a millionth on the diagonal keeps it from being singular. */
function symmetric(size: number, at: (i: number, j: number) => number): Matrix {
  const matrix = Matrix.zeros(size, size);
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      const value = i === j ? at(i, i) * (1 + 1e-9) + 1e-9 : at(i, j);
      matrix.set(i, j, value);
      matrix.set(j, i, value);
    }
  }
  return matrix;
}

const solved = (matrix: Matrix, right: number[]): number[] =>
  new CholeskyDecomposition(matrix).solve(Matrix.columnVector(right)).to1DArray();

/**
 * The model at given unknowns: light to the left, light to the right, light inside and an even slope, each with its
 * best factor; two blurred edges tell how much of each a place sees. Gives the factors and the weighted residuals.
 */
function modelled(strip: readonly StripPixel[], [centre, squaredWidth, blur]: Unknowns) {
  const width = Math.sqrt(squaredWidth);
  const normal = new Float64Array(16);
  const right = new Float64Array(4);
  const rows = strip.map(({ across, light, weight }) => {
    const u = across - centre;
    const [into, outOf] = [normalCdf((u + width / 2) / blur), normalCdf((u - width / 2) / blur)];
    const row = [1 - into, outOf, into - outOf, u] as const;
    for (let i = 0; i < 4; i += 1) {
      const wi = weight * (row[i] ?? 0);
      right[i] = (right[i] ?? 0) + wi * light;
      for (let j = 0; j <= i; j += 1) normal[4 * i + j] = (normal[4 * i + j] ?? 0) + wi * (row[j] ?? 0);
    }
    return row;
  });
  const matrix = symmetric(4, (i, j) => normal[4 * i + j] ?? 0);
  const factors = solved(matrix, [...right]);
  const residuals = strip.map(({ light, weight }, k) => {
    const value = rows[k]?.reduce<number>((sum, one, i) => sum + one * (factors[i] ?? 0), 0) ?? 0;
    return Math.sqrt(weight) * (light - value);
  });
  return { factors, residuals, squares: residuals.reduce((sum, one) => sum + one * one, 0) };
}

const bounded = ([centre, squaredWidth, blur]: readonly number[], blurMin: number): Unknowns => [
  centre ?? 0,
  Math.max(WIDTH_MIN_PX ** 2, squaredWidth ?? 0),
  Math.min(BLUR_MAX_PX, Math.max(blurMin, blur ?? 0)),
];

/** JᵀJ and Jᵀr of the residuals by the first `count` unknowns, by central differences. */
function slopesAt(strip: readonly StripPixel[], at: Unknowns, residuals: readonly number[], count: number) {
  const STEP = 1e-3;
  const columns = Array.from({ length: count }, (_, k) => {
    const moved = (sign: number) =>
      modelled(strip, at.map((one, i) => (i === k ? one + sign * STEP : one)) as unknown as Unknowns)
        .residuals;
    const [plus, minus] = [moved(1), moved(-1)];
    return plus.map((one, i) => (one - (minus[i] ?? 0)) / (2 * STEP));
  });
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, one, i) => sum + one * (b[i] ?? 0), 0);
  return {
    square: symmetric(count, (i, j) => dot(columns[i] ?? [], columns[j] ?? [])),
    pull: columns.map((a) => dot(a, residuals)),
  };
}

/**
 * Least squares of a blurred dark line over a strip: centre, width and, where `fixedBlur` is null, blur by Levenberg and
 * Marquardt, the levels of light eliminated in each step (variable projection: Golub and Pereyra, 1973). The width is
 * then the missing light divided by the full depth of the line. Null for a strip with too few pixels or where the fit
 * comes to no end.
 */
export function fitDip(
  strip: readonly StripPixel[],
  start: { readonly centre: number; readonly width: number; readonly blur: number },
  fixedBlur: number | null,
): FittedDip | null {
  const count = fixedBlur === null ? 3 : 2;
  const effective = strip.reduce((sum, { weight }) => sum + weight, 0);
  if (effective < count + 6) return null;
  const blurMin = Math.sqrt(PIXEL_VARIANCE);
  let at = bounded([start.centre, start.width ** 2, fixedBlur ?? start.blur], blurMin);
  let model = modelled(strip, at);
  let damping = 1e-2;
  for (let round = 0; round < ROUNDS && damping < 1e8; round += 1) {
    const { square, pull } = slopesAt(strip, at, model.residuals, count);
    for (let i = 0; i < count; i += 1) square.set(i, i, square.get(i, i) * (1 + damping));
    const step = solved(square, pull);
    const next = bounded(
      at.map((one, i) => one - (step[i] ?? 0)),
      blurMin,
    );
    const tried = modelled(strip, next);
    if (!(tried.squares < model.squares)) {
      damping *= 8;
      continue;
    }
    const small = model.squares - tried.squares < 1e-7 * model.squares;
    [at, model, damping] = [next, tried, damping / 4];
    if (small) break;
  }
  return summed(strip, at, model, count, effective);
}

function summed(
  strip: readonly StripPixel[],
  at: Unknowns,
  model: ReturnType<typeof modelled>,
  count: number,
  effective: number,
): FittedDip | null {
  const [left = 0, right = 0, inside = 0] = model.factors;
  const { square } = slopesAt(strip, at, model.residuals, count);
  const inverse = new CholeskyDecomposition(square).solve(Matrix.eye(count));
  const variance = model.squares / Math.max(1, effective - count - 4);
  const width = Math.sqrt(at[1]);
  const widthU = Math.sqrt(Math.max(0, inverse.get(1, 1)) * variance) / (2 * width);
  const values = [...at, widthU, left, right, inside];
  return values.every(Number.isFinite)
    ? {
        centre: at[0],
        width,
        blur: at[2],
        widthU,
        depth: (left + right) / 2 - inside,
        scatter: Math.sqrt(model.squares / effective),
        squares: model.squares,
        effective,
      }
    : null;
}
