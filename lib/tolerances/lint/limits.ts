import { boundsAsSize } from '../bounds.ts';
import { type Indexed, ofType } from '../ofType.ts';
import { bitsOf, type Reach, reachesMeet, reachesWithin, reachOfLimit } from '../reach.ts';
import type { Bounds, LimitRow, Table } from '../table.ts';
import { forPairs, grouped, type PairFinding, type Telling } from './pairing.ts';

/** Bounds with their open ends at infinity. */
interface Interval {
  readonly low: number;
  readonly high: number;
}

/** A limit with the places it speaks of, the ways of measuring it accepts and its bounds as sizes. */
interface LimitAt extends Indexed<LimitRow> {
  readonly reach: Reach;
  readonly methods: number;
  readonly keep: Interval;
  /** Values that are not scrap. */
  readonly usable: Interval;
}

const interval = ({ min, max }: Bounds): Interval => ({
  low: min ?? Number.NEGATIVE_INFINITY,
  high: max ?? Number.POSITIVE_INFINITY,
});
const within = (inner: Interval, outer: Interval) => inner.low >= outer.low && inner.high <= outer.high;
const meet = (a: Interval, b: Interval) => Math.max(a.low, b.low) <= Math.min(a.high, b.high);

function limitAt(table: Table, { row, index }: Indexed<LimitRow>): LimitAt {
  return {
    row,
    index,
    reach: reachOfLimit(table, row),
    methods: bitsOf(['gauge', 'photo'], row.methods),
    keep: interval(boundsAsSize(row, row.keep)),
    usable: interval(boundsAsSize(row, row.repair ?? row.keep)),
  };
}

/** Whether a row never decides beside another: it speaks of nothing more, is never stricter, and accepts no other way of measuring. */
function neverDecides(a: LimitAt, b: LimitAt): boolean {
  return (
    within(b.keep, a.keep) &&
    within(b.usable, a.usable) &&
    (a.methods & ~b.methods) === 0 &&
    (a.row.repairNeeds === b.row.repairNeeds || b.row.repairNeeds === 'rework') &&
    reachesWithin(a.reach, b.reach)
  );
}

const names = (a: LimitAt, b: LimitAt) => [a.row.row, b.row.row];

function contradiction(a: LimitAt, b: LimitAt): PairFinding {
  return {
    lint: 'contradiction',
    rows: names(a, b),
    field: `rows.${b.index}.keep`,
    message: 'No value lies within keep of both rows: such a part can never be kept',
    wayOut: 'Correct the bounds, or let the rows speak of different parts.',
  };
}

function shadowed(hidden: LimitAt, by: LimitAt): Omit<PairFinding, 'rows'> {
  return {
    lint: 'shadowed',
    field: `rows.${hidden.index}`,
    message: `"${hidden.row.row}" never decides: "${by.row.row}" speaks of the same parts and is as strict or stricter`,
    wayOut: 'Remove the row, or let the other speak of different parts.',
  };
}

/** What two limits that are not against each other do to each other. */
function beside(a: LimitAt, b: LimitAt): PairFinding {
  const rows = names(a, b);
  if (neverDecides(b, a)) return { rows, ...shadowed(b, a) };
  if (neverDecides(a, b)) return { rows, ...shadowed(a, b) };
  return {
    lint: 'overlap',
    rows,
    field: `rows.${b.index}`,
    message: 'Both rows speak of the same parts; the stricter answer will win',
    wayOut: 'Narrow components, zones, states or diameterCodes if only one is meant.',
  };
}

/** Limits that speak of the same parts: contradictions, rows that never decide, and overlaps. */
export function limitPairs(table: Table, telling: Telling): void {
  const limits = ofType(table, 'limit').map((one) => limitAt(table, one));
  for (const ofOne of grouped(limits, ({ row }) => row.characteristic).values()) {
    forPairs(ofOne, (a, b) => {
      if (!reachesMeet(a.reach, b.reach)) return;
      if (meet(a.keep, b.keep)) telling.tell('warning', a, b, beside);
      else telling.tell('error', a, b, contradiction);
    });
  }
}
