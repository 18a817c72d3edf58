import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { uniformFrom } from '../../base/index.ts';
import { middleOf, type Point } from '../../photo/index.ts';
import type { Match } from './matches.ts';

/** A line a·x + b·y + c = 0 of the second picture with a² + b² = 1: there a point of the first one is seen, near or far. */
export type EpipolarLine = readonly [a: number, b: number, c: number];

/** What is fixed of two pictures of one rigid scene before anything is known of its shape: the line of every point. */
export interface Epipolar {
  readonly lineOf: (at: Point) => EpipolarLine;
  /** Matches that lie on their lines, to within `NEAR_PX`. */
  readonly inliers: readonly Match[];
}

/** Own choices: matches count as on their lines to within this, px of the copies; draws; least share of matches. */
const NEAR_PX = 2.5;
const DRAWS = 400;
const SAMPLE = 8;
const SHARE_MIN = 0.5;
const POLISH_LIMITS_PX = [5, 3, 2.5, 2.5];

/**
 * The epipolar geometry that most matches agree with: eight-point algorithm (Longuet-Higgins 1981) on normalised points
 * (Hartley 1997), tried on random draws (Fischler and Bolles 1981), then weighted anew by how far the matches lie from
 * their lines (Tukey’s weights). Null where fewer than half of the matches agree. Where all that is seen lies in one
 * plane any line will do, and so the one found.
 */
export function epipolarThrough(matches: readonly Match[]): Epipolar | null {
  if (matches.length < 2 * SAMPLE) return null;
  const [from, to] = [normaliser(matches.map((one) => one.from)), normaliser(matches.map((one) => one.to))];
  const rows = matches.map((match) => rowOf(from.of(match.from), to.of(match.to)));
  const random = uniformFrom(8);
  let best: { readonly matrix: number[]; readonly count: number } | null = null;
  for (let draw = 0; draw < DRAWS; draw += 1) {
    const chosen = new Set<number>();
    while (chosen.size < SAMPLE) chosen.add(Math.floor(random() * matches.length));
    const matrix = solved([...chosen].map((i) => rows[i] ?? []));
    const off = distances(matches, matrix, from, to);
    const count = off.reduce((sum, px) => sum + (px < NEAR_PX ? 1 : 0), 0);
    if (best === null || count > best.count) best = { matrix, count };
  }
  if (best === null) return null;
  let { matrix } = best;
  for (const limit of POLISH_LIMITS_PX) {
    const off = distances(matches, matrix, from, to);
    const kept = rows.flatMap((row, i) => {
      const share = (off[i] ?? limit) / limit;
      return share < 1 ? [row.map((value) => value * (1 - share * share))] : [];
    });
    if (kept.length >= SAMPLE) matrix = solved(kept);
  }
  const final = matrix;
  const off = distances(matches, final, from, to);
  const inliers = matches.filter((_, i) => (off[i] ?? NEAR_PX) < NEAR_PX);
  if (inliers.length < SHARE_MIN * matches.length) return null;
  return { lineOf: (at) => lineOf(final, from, to, at), inliers };
}

interface Normaliser {
  readonly middle: Point;
  readonly scale: number;
  of(at: Point): Point;
}

/** Middle at 0 and a mean distance of √2 from it (Hartley). */
function normaliser(points: readonly Point[]): Normaliser {
  const middle = middleOf(points);
  const mean =
    points.reduce((sum, [x, y]) => sum + Math.hypot(x - middle[0], y - middle[1]), 0) / points.length;
  const scale = Math.SQRT2 / Math.max(mean, 1e-9);
  return { middle, scale, of: ([x, y]) => [(x - middle[0]) * scale, (y - middle[1]) * scale] };
}

const rowOf = ([x, y]: Point, [u, v]: Point): number[] => [u * x, u * y, u, v * x, v * y, v, x, y, 1];

/** The matrix of rank 2 that the rows fit best, row by row. */
function solved(rows: readonly number[][]): number[] {
  const all = new Matrix(rows as number[][]);
  const values = smallest(all.transpose().mmul(all));
  const full = new Matrix([values.slice(0, 3), values.slice(3, 6), values.slice(6, 9)]);
  // Rank 2: what it does to the direction that it should take to nothing is taken away.
  const gone = smallest(full.transpose().mmul(full));
  const along = full.mmul(Matrix.columnVector(gone));
  return full.sub(along.mmul(Matrix.rowVector(gone))).to1DArray();
}

/** The eigenvector of the smallest eigenvalue of a symmetric matrix. */
function smallest(square: Matrix): number[] {
  const found = new EigenvalueDecomposition(square, { assumeSymmetric: true });
  const least = found.realEigenvalues.indexOf(Math.min(...found.realEigenvalues));
  return found.eigenvectorMatrix.getColumn(least);
}

function lineOf(m: readonly number[], from: Normaliser, to: Normaliser, at: Point): EpipolarLine {
  const [x, y] = from.of(at);
  const [a, b, c] = [0, 3, 6].map((k) => (m[k] ?? 0) * x + (m[k + 1] ?? 0) * y + (m[k + 2] ?? 0)) as [
    number,
    number,
    number,
  ];
  const size = Math.max(Math.hypot(a, b), 1e-12);
  // Back to px: u′ = (u − middle)·scale.
  return [a / size, b / size, c / (size * to.scale) - (a * to.middle[0] + b * to.middle[1]) / size];
}

function distances(
  matches: readonly Match[],
  matrix: readonly number[],
  from: Normaliser,
  to: Normaliser,
): number[] {
  return matches.map((match) => {
    const [a, b, c] = lineOf(matrix, from, to, match.from);
    return Math.abs(a * match.to[0] + b * match.to[1] + c);
  });
}
