import { fail, mean, ok, type Problem, problem, type Result } from '../../base/index.ts';

/** Intraclass correlations of a single reading and of the mean of all readers (Shrout & Fleiss 1979). */
export interface Intraclass {
  readonly things: number;
  readonly readers: number;
  /** Every thing read by other readers: ICC(1,1) and ICC(1,k). */
  readonly oneWay: { readonly single: number; readonly mean: number };
  /** The same readers, drawn from many; their offsets count: ICC(2,1) and ICC(2,k). Can one stand in for another? */
  readonly absolute: { readonly single: number; readonly mean: number };
  /** The same readers, these only; their offsets do not count: ICC(3,1) and ICC(3,k). */
  readonly consistent: { readonly single: number; readonly mean: number };
  /** Between things, between readers, within things, and what is left. */
  readonly meanSquares: {
    readonly things: number;
    readonly readers: number;
    readonly within: number;
    readonly rest: number;
  };
}

/**
 * Intraclass correlations from a full table, rows the things and columns the readers (Shrout & Fleiss, Psychological
 * Bulletin 86, 1979). Fails for fewer than two of either, for gaps and for things that are all alike.
 */
export function intraclass(table: readonly (readonly number[])[]): Result<Intraclass, Problem> {
  const [n, k] = [table.length, table[0]?.length ?? 0];
  const full = table.every((row) => row.length === k && row.every(Number.isFinite));
  if (n < 2 || k < 2 || !full) {
    return fail(
      problem(
        'intraclass-table',
        'table',
        `${n} × ${k}`,
        'Two things or more, each read by the same two readers or more, are needed, without gaps',
        'Leave out things that were not read by all.',
      ),
    );
  }
  const all = table.flat();
  const grand = mean(all);
  const squares = (values: readonly number[]) => values.reduce((sum, one) => sum + (one - grand) ** 2, 0);
  const rowMeans = table.map(mean);
  const columnMeans = Array.from({ length: k }, (_, j) => mean(table.map((row) => row[j] ?? 0)));
  const [between, readers, total] = [k * squares(rowMeans), n * squares(columnMeans), squares(all)];
  if (!(total > 0)) {
    return fail(
      problem(
        'intraclass-alike',
        'table',
        grand,
        'All readings are alike, so nothing tells things apart',
        'Choose things that differ.',
      ),
    );
  }
  const BMS = between / (n - 1);
  const JMS = readers / (k - 1);
  const WMS = (total - between) / (n * (k - 1));
  const EMS = (total - between - readers) / ((n - 1) * (k - 1));
  return ok({
    things: n,
    readers: k,
    oneWay: { single: (BMS - WMS) / (BMS + (k - 1) * WMS), mean: (BMS - WMS) / BMS },
    absolute: {
      single: (BMS - EMS) / (BMS + (k - 1) * EMS + (k * (JMS - EMS)) / n),
      mean: (BMS - EMS) / (BMS + (JMS - EMS) / n),
    },
    consistent: { single: (BMS - EMS) / (BMS + (k - 1) * EMS), mean: (BMS - EMS) / BMS },
    meanSquares: { things: BMS, readers: JMS, within: WMS, rest: EMS },
  });
}
