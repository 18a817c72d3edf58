import { CholeskyDecomposition } from 'ml-matrix';
import { uniformFrom } from '../base/index.ts';
import type { Point } from './homography.ts';
import { continued } from './size.ts';
import { type Model, THIN_CHORD_MM, valueAt } from './sizeModel.ts';

export const DRAWS = 200;
/** Draws that must count in effect; where the weights leave fewer, more are drawn, up to this many times as many. */
const EFFECTIVE_DRAWS = 60;
const MORE_DRAWS = 8;
/** A size that misses the surface in more draws than this share has no uncertainty worth stating. */
const MISSED_SHARE = 0.1;

/**
 * Spread about the nominal value over draws from all distributions, normal each, seeded, so that it can be repeated.
 * The unknowns of the reference are drawn from the first-order covariance and weighted by what the evidence itself
 * says of each draw (importance sampling; Robert & Casella, Monte Carlo Statistical Methods, 3.3): a plane seen
 * squarely may lean less than the first order admits. Null where too many draws miss the surface.
 */
export function monteCarlo(model: Model, draws: number): { mean: number; u: number } | null {
  const { reference, placing, lines, pickU } = model;
  const { values, covariance, chiSquare, chiSquareAt } = reference.estimate;
  const factor = new CholeskyDecomposition(covariance).lowerTriangularMatrix;
  const nominal = valueAt(model, values, [], lines, THIN_CHORD_MM);
  if (nominal === null) return null;
  const normal = normals(20_260_401);
  let [all, missed, squaredWeights, sum, squares] = [0, 0, 0, 0, 0];
  for (let n = 0; n < draws * MORE_DRAWS; n += 1) {
    if (n >= draws && (all * all) / squaredWeights >= EFFECTIVE_DRAWS) break;
    const z = values.map(() => normal());
    const drawn = values.map(
      (one, i) => one + z.slice(0, i + 1).reduce((total, zk, k) => total + factor.get(i, k) * zk, 0),
    );
    const excess = chiSquareAt(drawn) - chiSquare - z.reduce((total, zk) => total + zk * zk, 0);
    const weight = Math.min(1, Math.exp(-excess / 2));
    const unknowns = placing.unknowns.map(({ u }) => u * normal());
    const picked = lines.map((line) =>
      line.map(([x, y]): Point => [x + pickU * normal(), y + pickU * normal()]),
    );
    const one = weight < 1e-6 ? nominal : valueAt(model, drawn, unknowns, picked, THIN_CHORD_MM);
    all += weight;
    squaredWeights += weight * weight;
    if (one === null) missed += weight;
    else {
      const off = continued(model.taking, nominal, one) - nominal;
      sum += weight * off;
      squares += weight * off ** 2;
    }
  }
  if (missed > MISSED_SHARE * all) return null;
  return { mean: nominal + sum / (all - missed), u: Math.sqrt(squares / (all - missed)) };
}

/** Normal numbers by Box and Muller: the same ones each time. */
function normals(seed: number): () => number {
  const uniform = uniformFrom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
