import { characteristicOf } from '../../readings/index.ts';
import { ofType } from '../ofType.ts';
import type { LimitRow, Table } from '../table.ts';
import { forPairs, grouped, type PairFinding, type Telling } from './pairing.ts';

/** One bound of a limit row, a number in mm or mm². */
interface BoundAt {
  readonly row: LimitRow;
  readonly index: number;
  readonly end: 'min' | 'max';
  readonly value: number;
}

/** The keep bounds of a table by what can be compared: one end of one characteristic, counted from the same. */
function comparable(table: Table): Iterable<BoundAt[]> {
  const bounds = ofType(table, 'limit')
    .filter(({ row }) => row.boundsOf !== 'percent lost')
    .flatMap(({ row, index }) =>
      (['min', 'max'] as const).flatMap((end): BoundAt[] => {
        const value = row.keep[end];
        return value === undefined ? [] : [{ row, index, end, value }];
      }),
    );
  const sort = ({ row, end }: BoundAt) => `${row.characteristic} ${row.boundsOf ?? 'value'} ${end}`;
  return grouped(bounds, sort).values();
}

/** Whether two numbers differ by a factor, give or take a tenth of it. */
function differBy(factor: number, x: number, y: number): boolean {
  const ratio = Math.max(x / y, y / x) / factor;
  return ratio >= 0.9 && ratio <= 1.1;
}

function mixed(a: BoundAt, b: BoundAt): PairFinding {
  return {
    lint: 'mixed units',
    rows: [a.row.row, b.row.row],
    field: `rows.${b.index}.keep.${b.end}`,
    message: `${a.value} and ${b.value} differ by the factor between inches and millimetres`,
    wayOut: 'Bounds are in mm and mm². Convert the one that is in inches.',
  };
}

/** Bounds of one quantity that differ by the factor between inches and millimetres. */
export function mixedUnits(table: Table, telling: Telling): void {
  for (const bounds of comparable(table)) {
    const isArea = bounds.some(({ row }) => characteristicOf(row.characteristic).quantity === 'area');
    const factor = isArea ? 25.4 ** 2 : 25.4;
    forPairs(bounds, (a, b) => {
      if (differBy(factor, a.value, b.value)) telling.tell('warning', a, b, mixed);
    });
  }
}
