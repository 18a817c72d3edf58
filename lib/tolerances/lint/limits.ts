import { characteristicOf } from '../../readings/index.ts';
import { boundsAsSize } from '../bounds.ts';
import { type Indexed, ofType } from '../ofType.ts';
import { placeKey, placesOfLimit } from '../reach.ts';
import type { Bounds, LimitRow, Table } from '../table.ts';
import type { LintFinding } from './finding.ts';
import { pairsOf } from './pairing.ts';

/** A limit with the places it speaks of and its bounds as sizes. */
interface LimitAt extends Indexed<LimitRow> {
  readonly places: ReadonlySet<string>;
  readonly keep: Bounds;
  /** Values that are not scrap. */
  readonly usable: Bounds;
}

const low = (bounds: Bounds) => bounds.min ?? Number.NEGATIVE_INFINITY;
const high = (bounds: Bounds) => bounds.max ?? Number.POSITIVE_INFINITY;
const within = (inner: Bounds, outer: Bounds) => low(inner) >= low(outer) && high(inner) <= high(outer);
const meet = (a: Bounds, b: Bounds) => Math.max(low(a), low(b)) <= Math.min(high(a), high(b));

function limitAt(table: Table, { row, index }: Indexed<LimitRow>): LimitAt {
  return {
    row,
    index,
    places: new Set(placesOfLimit(table, row).map(placeKey)),
    keep: boundsAsSize(row, row.keep),
    usable: boundsAsSize(row, row.repair ?? row.keep),
  };
}

/** Whether a row never decides beside another: it speaks of nothing more, is never stricter, and accepts no other way of measuring. */
function neverDecides(a: LimitAt, b: LimitAt): boolean {
  return (
    [...a.places].every((place) => b.places.has(place)) &&
    a.row.methods.every((method) => b.row.methods.includes(method)) &&
    within(b.keep, a.keep) &&
    within(b.usable, a.usable) &&
    (a.row.repairNeeds === b.row.repairNeeds || b.row.repairNeeds === 'rework')
  );
}

function shadowed(hidden: LimitAt, by: LimitAt): Omit<LintFinding, 'rows'> {
  return {
    lint: 'shadowed',
    severity: 'warning',
    field: `rows.${hidden.index}`,
    message: `"${hidden.row.row}" never decides: "${by.row.row}" speaks of the same parts and is as strict or stricter`,
    wayOut: 'Remove the row, or let the other speak of different parts.',
  };
}

/** What two limits of one quantity, whose places meet, have against each other. */
function clash(a: LimitAt, b: LimitAt): Omit<LintFinding, 'rows'> {
  if (!meet(a.keep, b.keep)) {
    return {
      lint: 'contradiction',
      severity: 'error',
      field: `rows.${b.index}.keep`,
      message: 'No value lies within keep of both rows: such a part can never be kept',
      wayOut: 'Correct the bounds, or let the rows speak of different parts.',
    };
  }
  if (neverDecides(b, a)) return shadowed(b, a);
  if (neverDecides(a, b)) return shadowed(a, b);
  return {
    lint: 'overlap',
    severity: 'warning',
    field: `rows.${b.index}`,
    message: 'Both rows speak of the same parts; the stricter answer will win',
    wayOut: 'Narrow components, zones, states or diameterCodes if only one is meant.',
  };
}

/** Limits that speak of the same parts: contradictions, rows that never decide, and overlaps. */
export function limitPairs(table: Table): LintFinding[] {
  const limits = ofType(table, 'limit').map((one) => limitAt(table, one));
  return pairsOf(limits).flatMap(([a, b]) =>
    a.row.characteristic !== b.row.characteristic || ![...a.places].some((place) => b.places.has(place))
      ? []
      : [{ rows: [a.row.row, b.row.row], ...clash(a, b) }],
  );
}

/** Whether two numbers differ by a factor, give or take a tenth of it. */
function differBy(factor: number, x: number, y: number): boolean {
  const ratio = Math.max(x / y, y / x) / factor;
  return ratio >= 0.9 && ratio <= 1.1;
}

/** Bounds of one quantity that differ by the factor between inches and millimetres. */
export function mixedUnits(table: Table): LintFinding[] {
  const inUnits = ofType(table, 'limit').filter(({ row }) => row.boundsOf !== 'percent lost');
  return pairsOf(inUnits).flatMap(([{ row: a }, { row: b, index }]): LintFinding[] => {
    const basis = (row: LimitRow) => `${row.characteristic} ${row.boundsOf ?? 'value'}`;
    if (basis(a) !== basis(b)) return [];
    const factor = characteristicOf(a.characteristic).quantity === 'area' ? 25.4 ** 2 : 25.4;
    return (['min', 'max'] as const).flatMap((end): LintFinding[] => {
      // An open end differs from nothing.
      const [x = Number.NaN, y = Number.NaN] = [a.keep[end], b.keep[end]];
      if (!differBy(factor, x, y)) return [];
      return [
        {
          lint: 'mixed units',
          severity: 'warning',
          rows: [a.row, b.row],
          field: `rows.${index}.keep.${end}`,
          message: `${x} and ${y} differ by the factor between inches and millimetres`,
          wayOut: 'Bounds are in mm and mm². Convert the one that is in inches.',
        },
      ];
    });
  });
}
