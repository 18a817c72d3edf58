import { characteristicOf } from '../readings/index.ts';
import { type RuleCited, sizeLimits } from '../rules/index.ts';
import { type PartFacts, rowsFor, type Table } from '../tolerances/index.ts';
import type { WearMeasured } from './measured.ts';

/** The end of a keep limit that wear runs toward, mm. */
export interface LimitEnd {
  /** Which way is beyond it: 1 above, −1 below. */
  readonly worse: 1 | -1;
  readonly value: number;
  /** Standard uncertainty that a nominal size adds, mm. */
  readonly u: number;
  /** Where repair ends on the same side; null: no repair, or no end of it there. */
  readonly repair: number | null;
  readonly rule: RuleCited;
}

type Quantity = Pick<WearMeasured, 'characteristic' | 'zone' | 'state'>;

/**
 * The ends of the keep limits that apply to a quantity of a part on a day (ISO date), on the sides on which it gets worse;
 * of several rows the strictest on each side. Empty: no limit on file.
 */
export function limitEnds(
  { characteristic, zone, state }: Quantity,
  part: PartFacts,
  tables: readonly Table[],
  on: string,
): readonly LimitEnd[] {
  const { worse } = characteristicOf(characteristic);
  const ends = rowsFor(tables, 'limit', part, on, zone)
    .filter(
      ({ row }) =>
        row.characteristic === characteristic &&
        (row.states === undefined || (state !== null && row.states.includes(state))),
    )
    .flatMap(({ table, row }): LimitEnd[] => {
      const { keep, repair, u } = sizeLimits(row);
      const rule = { table: table.table, edition: table.edition, row: row.row, source: row.source };
      const end = (side: 1 | -1, value: number | undefined, beyond: number | undefined): LimitEnd[] =>
        value === undefined ? [] : [{ worse: side, value, u, repair: beyond ?? null, rule }];
      return [
        ...(worse === 'higher' ? [] : end(-1, keep.min, repair?.min)),
        ...(worse === 'lower' ? [] : end(1, keep.max, repair?.max)),
      ];
    });
  return ([-1, 1] as const).flatMap((side) => {
    const [strictest] = ends.filter((one) => one.worse === side).sort((a, b) => side * (a.value - b.value));
    return strictest === undefined ? [] : [strictest];
  });
}
