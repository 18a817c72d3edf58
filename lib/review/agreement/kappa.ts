import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Interval } from './limits.ts';

/** Agreement of two people who sorted the same things into the same ordered classes, beyond chance. */
export interface Kappa {
  readonly n: number;
  /** Share of (weighted) agreement seen, and that chance alone would give. */
  readonly observed: number;
  readonly chance: number;
  /** 1 whole agreement, 0 as by chance; null where chance alone agrees wholly: both used one class only. */
  readonly kappa: number | null;
  /** Large-sample standard error and confidence interval; null with kappa. */
  readonly se: number | null;
  readonly interval: Interval | null;
}

/** How much two classes count as agreeing: 1 the same, 0 not at all. */
export type AgreementWeights = (row: number, column: number, classes: number) => number;

/** Only the same class agrees (Cohen 1960). */
export const sameClass: AgreementWeights = (i, j) => (i === j ? 1 : 0);
/** Weights that fall evenly with the distance between ordered classes (Cicchetti & Allison 1971). */
export const evenly: AgreementWeights = (i, j, classes) => 1 - Math.abs(i - j) / Math.max(1, classes - 1);
/** Weights that fall with its square (Fleiss & Cohen 1973). */
export const squarely: AgreementWeights = (i, j, classes) => 1 - ((i - j) / Math.max(1, classes - 1)) ** 2;

const NORMAL_95 = 1.959964;

/**
 * Weighted kappa of a square table of counts, rows the first person’s classes (Cohen, Psychological Bulletin 70, 1968),
 * with the large-sample standard error of Fleiss, Cohen & Everitt (Psychological Bulletin 72, 1969) and a 95 % interval
 * from it. Fails for a table that is not square, is empty or has counts that are not numbers from 0 up.
 */
export function weightedKappa(
  table: readonly (readonly number[])[],
  weights: AgreementWeights = evenly,
): Result<Kappa, Problem> {
  const classes = table.length;
  const sound =
    classes > 0 && table.every((row) => row.length === classes && row.every((one) => one >= 0 && one < 1e9));
  const n = table.flat().reduce((sum, one) => sum + one, 0);
  if (!sound || !(n > 0)) {
    return fail(
      problem(
        'kappa-table',
        'table',
        table,
        'A table of calls has as many rows as columns and counts from 0 up, not all 0',
        'Choose a longer period, or have more inspections checked.',
      ),
    );
  }
  const p = table.map((row) => row.map((one) => one / n));
  const rowSum = p.map((row) => row.reduce((sum, one) => sum + one, 0));
  const columnSum = p.map((_, j) => p.reduce((sum, row) => sum + (row[j] ?? 0), 0));
  const w = p.map((row, i) => row.map((_, j) => weights(i, j, classes)));
  const cells = p.flatMap((row, i) =>
    row.map((share, j) => ({
      i,
      j,
      share,
      expected: (rowSum[i] ?? 0) * (columnSum[j] ?? 0),
      weight: w[i]?.[j] ?? 0,
    })),
  );
  const observed = cells.reduce((sum, { share, weight }) => sum + share * weight, 0);
  const chance = cells.reduce((sum, { expected, weight }) => sum + expected * weight, 0);
  if (1 - chance < 1e-12) return ok({ n, observed, chance, kappa: null, se: null, interval: null });
  const kappa = (observed - chance) / (1 - chance);
  const rowWeight = w.map((row) => row.reduce((sum, one, j) => sum + one * (columnSum[j] ?? 0), 0));
  const columnWeight = w.map((_, j) => w.reduce((sum, row, i) => sum + (row[j] ?? 0) * (rowSum[i] ?? 0), 0));
  const spread = cells.reduce((sum, { i, j, share, weight }) => {
    const usual = (rowWeight[i] ?? 0) + (columnWeight[j] ?? 0);
    return sum + share * (weight - usual * (1 - kappa)) ** 2;
  }, 0);
  const variance = (spread - (kappa - chance * (1 - kappa)) ** 2) / (n * (1 - chance) ** 2);
  const se = Math.sqrt(Math.max(0, variance));
  return ok({
    n,
    observed,
    chance,
    kappa,
    se,
    interval: [Math.max(-1, kappa - NORMAL_95 * se), Math.min(1, kappa + NORMAL_95 * se)],
  });
}
