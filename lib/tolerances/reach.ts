import { assert } from '../base/index.ts';
import { characteristicOf } from '../readings/index.ts';
import { ComponentKind, DIAMETER_CODES, RingState, ZoneId } from '../wheel/index.ts';
import type { LimitRow, Row, Table } from './table.ts';

type Selecting = Exclude<Row, { readonly type: 'match' }>;

/** A component kind with a zone and a state (null: none), of whatever diameter. */
interface ZonedPlace {
  readonly component: ComponentKind;
  readonly zone: ZoneId;
  readonly state: RingState | null;
}

/** One place that a limit speaks of. */
export interface Place extends ZonedPlace {
  readonly diameterCode: number;
}

type Range = { readonly min: number; readonly max: number } | undefined;

/** The diameter codes of earthmover rims that a range takes in; all of them without a range. */
export function codesIn(range: Range): number[] {
  return DIAMETER_CODES.filter((code) => range === undefined || (code >= range.min && code <= range.max));
}

/** A row as far as it names components; one of pairs names none. */
interface Naming extends Pick<Row, 'row'> {
  readonly components?: readonly ComponentKind[] | undefined;
}

/** Component kinds that a row of a table can speak of. */
export function componentsOf(table: Table, row: Naming): ComponentKind[] {
  return ComponentKind.options.filter(
    (kind) => (row.components?.includes(kind) ?? true) && (table.scope.components?.includes(kind) ?? true),
  );
}

/** The diameter codes that both a row and its table take in. */
export function codesOf(table: Table, row: Selecting): number[] {
  const scope = codesIn(table.scope.diameterCodes);
  return codesIn(row.diameterCodes).filter((code) => scope.includes(code));
}

/** Zones of a component in which a limit row can decide: of those that it names, where its characteristic is taken. */
function zonesOfLimit(row: LimitRow, component: ComponentKind): readonly ZoneId[] {
  const taken = characteristicOf(row.characteristic).zones[component] ?? [];
  return taken.filter((zone) => row.zones?.includes(zone) ?? true);
}

/** States in which a limit row can decide; null where its characteristic has none. */
function statesOfLimit(row: LimitRow): readonly (RingState | null)[] {
  const { states } = characteristicOf(row.characteristic);
  return states.length === 0 ? [null] : states.filter((state) => row.states?.includes(state) ?? true);
}

/** Places where a limit row can decide, of whatever diameter: only zones in which its characteristic is taken. */
export function zonedPlacesOfLimit(table: Table, row: LimitRow): ZonedPlace[] {
  const states = statesOfLimit(row);
  return componentsOf(table, row).flatMap((component) =>
    zonesOfLimit(row, component).flatMap((zone) => states.map((state) => ({ component, zone, state }))),
  );
}

/** Every place where a limit row can decide. */
export function placesOfLimit(table: Table, row: LimitRow): Place[] {
  const codes = codesOf(table, row);
  return zonedPlacesOfLimit(table, row).flatMap((place) =>
    codes.map((diameterCode) => ({ ...place, diameterCode })),
  );
}

/**
 * The places of a row as sets of bits, so that thousands of rows can be compared with each other. A place belongs to the
 * row when its zone, its state and its diameter code do.
 */
export interface Reach {
  /** Zones of each component kind, in the order of `ComponentKind`. */
  readonly zones: readonly number[];
  readonly states: number;
  readonly codes: number;
}

/** More would not go into the bits of one number. */
const BITS_MAX = 32;

/** Which of `all` were chosen, as a set of bits. */
export function bitsOf<T>(all: readonly T[], chosen: readonly T[]): number {
  assert(all.length <= BITS_MAX, `at most ${BITS_MAX} of a sort`);
  return all.reduce((bits, one, index) => (chosen.includes(one) ? bits | (1 << index) : bits), 0);
}

const STATES: readonly (RingState | null)[] = [null, ...RingState.options];

/** The codes of earthmover rims in a range, or all of them, as a set of bits. */
export function codeBits(range: Range): number {
  return bitsOf<number>(DIAMETER_CODES, codesIn(range));
}

function reachIn(table: Table, row: Selecting, zonesOf: (kind: ComponentKind) => readonly ZoneId[]) {
  const kinds = componentsOf(table, row);
  return {
    zones: ComponentKind.options.map((kind) =>
      kinds.includes(kind) ? bitsOf(ZoneId.options, zonesOf(kind)) : 0,
    ),
    codes: codeBits(row.diameterCodes) & codeBits(table.scope.diameterCodes),
  };
}

/** The places of a limit row, those of `placesOfLimit`. */
export function reachOfLimit(table: Table, row: LimitRow): Reach {
  const zonesOf = (kind: ComponentKind) => zonesOfLimit(row, kind);
  return { ...reachIn(table, row, zonesOf), states: bitsOf(STATES, statesOfLimit(row)) };
}

/** The places of a row that is not a limit; a row without zones speaks of any zone. */
export function reachOf(table: Table, row: Exclude<Selecting, LimitRow>): Reach {
  return { ...reachIn(table, row, () => row.zones ?? ZoneId.options), states: bitsOf(STATES, [null]) };
}

/** Whether two rows speak of some place together. */
export function reachesMeet(a: Reach, b: Reach): boolean {
  if ((a.codes & b.codes) === 0 || (a.states & b.states) === 0) return false;
  for (let kind = 0; kind < a.zones.length; kind += 1) {
    if (((a.zones[kind] ?? 0) & (b.zones[kind] ?? 0)) !== 0) return true;
  }
  return false;
}

/** Whether every place of a row, which has some, is a place of another too. */
export function reachesWithin(inner: Reach, outer: Reach): boolean {
  return (
    (inner.codes & ~outer.codes) === 0 &&
    (inner.states & ~outer.states) === 0 &&
    inner.zones.every((zones, kind) => (zones & ~(outer.zones[kind] ?? 0)) === 0)
  );
}
