import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

/**
 * One body of evidence on the unknowns: residuals already divided by their standard uncertainty. The name is what a
 * reader of the budget sees.
 */
export interface Evidence {
  readonly name: string;
  residuals(unknowns: readonly number[]): readonly number[];
}

/** Values of unknowns with what each body of evidence contributes to their uncertainty. */
export interface Estimate {
  readonly values: readonly number[];
  readonly covariance: Matrix;
  /** Information (JᵀJ of the whitened residuals) that each body of evidence brings, in the order given. */
  readonly information: readonly { readonly name: string; readonly matrix: Matrix }[];
  /** Sum of squared whitened residuals at the solution. */
  readonly chiSquare: number;
  /** The same at any values: what the evidence says of them, beyond the first order. */
  chiSquareAt(values: readonly number[]): number;
}

/** Stands for a residual that cannot be worked out, as of a point behind the camera. */
const IMPOSSIBLE = 1e6;

function residualsOf(evidence: readonly Evidence[], values: readonly number[]): number[] {
  return evidence
    .flatMap((one) => [...one.residuals(values)])
    .map((one) => (Number.isFinite(one) ? one : IMPOSSIBLE));
}

/** Steps of the numerical derivatives, in typical sizes of the unknowns. */
const STEP = 1e-3;

function jacobian(
  residuals: (values: readonly number[]) => readonly number[],
  at: readonly number[],
  sizes: readonly number[],
): Matrix {
  const columns = at.map((_, j) => {
    const h = STEP * (sizes[j] ?? 1);
    const moved = (sign: number) => residuals(at.map((value, k) => (k === j ? value + sign * h : value)));
    const [plus, minus] = [moved(1), moved(-1)];
    return plus.map((value, i) => (value - (minus[i] ?? 0)) / (2 * h));
  });
  return new Matrix(columns).transpose();
}

/**
 * Least squares over whitened residuals by Levenberg and Marquardt (ml-levenberg-marquardt), in unknowns divided by
 * their typical `sizes`. The covariance is the inverse of the summed information at the solution (JCGM 100, H.3, and
 * Hartley & Zisserman, 2nd ed., result 5.10). Fails when the evidence does not fix every unknown.
 */
export function estimate(
  start: readonly number[],
  sizes: readonly number[],
  evidence: readonly Evidence[],
): Result<Estimate, Problem> {
  const all = (values: readonly number[]) => residualsOf(evidence, values);
  const inSizes = (scaled: readonly number[]) => scaled.map((value, j) => value * (sizes[j] ?? 1));
  const fitted = fittedTo(
    all,
    start.map((value, j) => value / (sizes[j] ?? 1)),
    inSizes,
  );
  if (fitted === null) return fail(open(start.length));
  const values = inSizes(fitted);
  const information = evidence.map(({ name, residuals }) => {
    const j = jacobian((at) => residualsOf([{ name, residuals }], at), values, sizes);
    return { name, matrix: j.transpose().mmul(j) };
  });
  const total = Matrix.zeros(start.length, start.length);
  for (const { matrix } of information) total.add(matrix);
  const covariance = inverseOf(total, sizes);
  if (covariance === null || values.some((value) => !Number.isFinite(value))) {
    return fail(open(start.length));
  }
  const chiSquareAt = (at: readonly number[]) => squared(all(at));
  return ok({ values, covariance, information, chiSquare: chiSquareAt(values), chiSquareAt });
}

const open = (unknowns: number) =>
  problem(
    'estimate-open',
    'points',
    `${unknowns} unknowns`,
    'The points do not fix the scale',
    'Pick them further apart, or pick more of them.',
  );

/** Start values of the damping, from nearly none to a short step downhill. */
const DAMPINGS = [1e-3, 1e2, 1e5];
const ROUNDS_MAX = 12;
const ITERATIONS = 5;

/**
 * Values in typical sizes that fit best; null where the fit runs into a singular system. The solver goes on from a step
 * that made things worse, so it is begun again from the best values known until that brings nothing more.
 */
function fittedTo(
  all: (values: readonly number[]) => readonly number[],
  start: readonly number[],
  inSizes: (scaled: readonly number[]) => number[],
): readonly number[] | null {
  let best = { parameterValues: [...start], parameterError: squared(all(inSizes(start))) };
  for (let round = 0; round < ROUNDS_MAX; round += 1) {
    const before = best.parameterError;
    if (round > 0 && stillToGain(all, best.parameterValues, inSizes) <= arrived(before)) break;
    for (const damping of DAMPINGS) {
      const next = solved(all, best.parameterValues, inSizes, damping);
      if (next === null) continue;
      if (next.parameterError < best.parameterError) best = next;
      if (damping === DAMPINGS[0] && best.parameterError < before) break;
    }
    if (before - best.parameterError < arrived(before)) break;
  }
  return Number.isFinite(best.parameterError) ? best.parameterValues : null;
}

/** A sum of squares has arrived where less than this can be gained. */
const arrived = (squares: number) => 1e-6 * squares + 1e-9;

/** What a full step of Gauss and Newton would take off the sum of squares, were the residuals linear; gᵀ(JᵀJ)⁻¹g. */
function stillToGain(
  all: (values: readonly number[]) => readonly number[],
  at: readonly number[],
  inSizes: (scaled: readonly number[]) => number[],
): number {
  const unscaled = (values: readonly number[]) => all(inSizes(values));
  const j = jacobian(
    unscaled,
    at,
    at.map(() => 1),
  );
  const gradient = j.transpose().mmul(Matrix.columnVector([...unscaled(at)]));
  const normal = new CholeskyDecomposition(j.transpose().mmul(j));
  if (!normal.isPositiveDefinite()) return Number.POSITIVE_INFINITY;
  return gradient.transpose().mmul(normal.solve(gradient)).get(0, 0);
}

function squared(residuals: readonly number[]): number {
  return residuals.reduce((sum, one) => sum + one * one, 0);
}

function solved(
  all: (values: readonly number[]) => readonly number[],
  initialValues: number[],
  inSizes: (scaled: readonly number[]) => number[],
  damping: number,
): { parameterValues: number[]; parameterError: number } | null {
  const count = all(inSizes(initialValues)).length;
  try {
    return levenbergMarquardt(
      { x: Array.from({ length: count }, (_, i) => i), y: new Array<number>(count).fill(0) },
      (scaled: number[]) => {
        const values = all(inSizes(scaled));
        return (i: number) => values[i] ?? 0;
      },
      {
        initialValues,
        damping,
        gradientDifference: STEP,
        centralDifference: true,
        maxIterations: ITERATIONS,
        errorTolerance: 1e-12,
      },
    );
  } catch (error) {
    // The solver throws where its normal equations are singular; everything else is a fault of ours.
    if (error instanceof Error && /singular|not symmetric/i.test(error.message)) return null;
    throw error;
  }
}

/** Inverse of a symmetric positive definite matrix, balanced by typical sizes; null when it is not definite. */
function inverseOf(matrix: Matrix, sizes: readonly number[]): Matrix | null {
  const n = matrix.rows;
  const size = (i: number) => sizes[i] ?? 1;
  const balanced = (m: Matrix): Matrix => {
    const result = new Matrix(n, n);
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j <= i; j += 1) {
        // Rounding leaves the two halves a little apart.
        const one = ((m.get(i, j) + m.get(j, i)) / 2) * (size(i) * size(j));
        result.set(i, j, one);
        result.set(j, i, one);
      }
    }
    return result;
  };
  const cholesky = new CholeskyDecomposition(balanced(matrix));
  return cholesky.isPositiveDefinite() ? balanced(cholesky.solve(Matrix.eye(n))) : null;
}

/** Standard uncertainty that each body of evidence gives to a quantity with this gradient; they add in squares. */
export function sharesOf(found: Estimate, gradient: readonly number[]): { name: string; u: number }[] {
  const g = Matrix.columnVector([...gradient]);
  const spread = found.covariance.mmul(g);
  return found.information.map(({ name, matrix }) => ({
    name,
    u: Math.sqrt(Math.max(0, spread.transpose().mmul(matrix).mmul(spread).get(0, 0))),
  }));
}
