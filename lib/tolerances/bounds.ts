import type { Bounds, LimitRow } from './table.ts';

type Relative = Pick<LimitRow, 'boundsOf' | 'nominal'>;

function nominalOf(row: Relative): { readonly value: number; readonly u: number } {
  if (row.nominal === undefined) throw new Error('Broken invariant: relative bounds without a nominal size');
  return row.nominal;
}

/**
 * The bounds of a limit row as a size: what a reading is compared with, mm (mm² for areas). Bounds `from nominal` are
 * added to the nominal size; `percent lost` p stands for the size nominal × (1 − p / 100), so that its ends change
 * places. The row has been checked by `parseTable`.
 */
export function boundsAsSize(row: Relative, bounds: Bounds): Bounds {
  const { min, max } = bounds;
  const ends = (low: number | undefined, high: number | undefined): Bounds => ({
    ...(low === undefined ? {} : { min: low }),
    ...(high === undefined ? {} : { max: high }),
  });
  switch (row.boundsOf ?? 'value') {
    case 'value':
      return bounds;
    case 'from nominal': {
      const add = (end: number | undefined) => (end === undefined ? undefined : nominalOf(row).value + end);
      return ends(add(min), add(max));
    }
    case 'percent lost': {
      const left = (lost: number | undefined) =>
        lost === undefined ? undefined : nominalOf(row).value * (1 - lost / 100);
      return ends(left(max), left(min));
    }
  }
}

/**
 * Standard uncertainty that the nominal size adds to a comparison, mm (mm² for areas); 0 for bounds of the value. Of
 * a bound at p percent lost the nominal's uncertainty enters as u × |1 − p / 100|; the largest over the bounds is taken.
 */
export function nominalU(row: Pick<LimitRow, 'boundsOf' | 'nominal' | 'keep' | 'repair'>): number {
  const basis = row.boundsOf ?? 'value';
  if (basis === 'value') return 0;
  const { u } = nominalOf(row);
  if (basis === 'from nominal') return u;
  const percents = [row.keep.min, row.keep.max, row.repair?.min, row.repair?.max].filter(
    (end) => end !== undefined,
  );
  return u * Math.max(...percents.map((lost) => Math.abs(1 - lost / 100)));
}
