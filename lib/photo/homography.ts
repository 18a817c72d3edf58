import { determinant, Matrix, SVD } from 'ml-matrix';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

export type Point = readonly [number, number];

/** Mean of points, by coordinate; one point or more. */
export function middleOf(points: readonly Point[]): Point {
  const [x, y] = points.reduce(([a, b], point): Point => [a + point[0], b + point[1]], [0, 0] as Point);
  return [x / points.length, y / points.length];
}

/** A plane-to-plane map, row by row; defined up to a factor. */
export type Homography = readonly [number, number, number, number, number, number, number, number, number];

/**
 * Similarity that moves points to mean 0 and mean distance √2 (Hartley & Zisserman, 2nd ed., 4.4.4), as a 3 × 3 matrix.
 * Points that all coincide are only moved. One point or more.
 */
export function normalising(points: readonly Point[]): Matrix {
  const n = points.length;
  const [meanX, meanY] = middleOf(points);
  const distance = points.reduce((sum, [x, y]) => sum + Math.hypot(x - meanX, y - meanY), 0) / n;
  const scale = distance === 0 ? 1 : Math.SQRT2 / distance;
  return new Matrix([
    [scale, 0, -scale * meanX],
    [0, scale, -scale * meanY],
    [0, 0, 1],
  ]);
}

function applied(matrix: Matrix, [x, y]: Point): Point {
  const w = matrix.get(2, 0) * x + matrix.get(2, 1) * y + matrix.get(2, 2);
  return [
    (matrix.get(0, 0) * x + matrix.get(0, 1) * y + matrix.get(0, 2)) / w,
    (matrix.get(1, 0) * x + matrix.get(1, 1) * y + matrix.get(1, 2)) / w,
  ];
}

/**
 * Homography that takes `from` to `to`, by the normalised direct linear transformation
 * (Hartley & Zisserman, 2nd ed., algorithm 4.2). Four or more pairs. Fails when the points do not fix it.
 */
export function homographyFrom(from: readonly Point[], to: readonly Point[]): Result<Homography, Problem> {
  if (from.length !== to.length || from.length < 4) {
    return fail(
      problem(
        'homography-count',
        'points',
        from.length,
        'A plane needs four point pairs or more',
        'Pick four corners.',
      ),
    );
  }
  const normalFrom = normalising(from);
  const normalTo = normalising(to);
  const rows = from.flatMap((point, index) => {
    const [x, y] = applied(normalFrom, point);
    const [u, v] = applied(normalTo, to[index] ?? [0, 0]);
    return [
      [-x, -y, -1, 0, 0, 0, u * x, u * y, u],
      [0, 0, 0, -x, -y, -1, v * x, v * y, v],
    ];
  });
  // A ninth row of zeros keeps the full set of right singular vectors when there are only four pairs.
  while (rows.length < 9) rows.push(new Array<number>(9).fill(0));
  const svd = new SVD(new Matrix(rows), { autoTranspose: false });
  const right = svd.rightSingularVectors.getColumn(8);
  const inner = new Matrix([right.slice(0, 3), right.slice(3, 6), right.slice(6, 9)]);
  // Rank below eight: more than one solution. Determinant near zero: three points on a line, so the plane collapses.
  const values = svd.diagonal;
  if ((values[7] ?? 0) < 1e-9 * (values[0] ?? 1) || Math.abs(determinant(inner)) < 1e-9) {
    return fail(
      problem(
        'homography-degenerate',
        'points',
        from,
        'Three of the corners lie on one line',
        'Pick the four corners of the rectangle again, in order round it.',
      ),
    );
  }
  const back = new Matrix([
    [1 / normalTo.get(0, 0), 0, -normalTo.get(0, 2) / normalTo.get(0, 0)],
    [0, 1 / normalTo.get(1, 1), -normalTo.get(1, 2) / normalTo.get(1, 1)],
    [0, 0, 1],
  ]);
  const whole = back.mmul(inner).mmul(normalFrom);
  return ok(whole.to1DArray() as unknown as Homography);
}

/** The point taken through the homography. Points on the horizon give numbers that are not finite. */
export function mapPoint(h: Homography, [x, y]: Point): Point {
  const w = h[6] * x + h[7] * y + h[8];
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w];
}
