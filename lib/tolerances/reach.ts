import { characteristicOf } from '../readings/index.ts';
import { ComponentKind, DIAMETER_CODES, type RingState, type ZoneId } from '../wheel/index.ts';
import type { LimitRow, Row, Table } from './table.ts';

type Selecting = Exclude<Row, { readonly type: 'match' }>;

/** One place a row speaks of: a component kind with a zone (null: any), a state (null: none) and a diameter code. */
export interface Place {
  readonly component: ComponentKind;
  readonly zone: ZoneId | null;
  readonly state: RingState | null;
  readonly diameterCode: number;
}

/** The diameter codes of earthmover rims that a range takes in; all of them without a range. */
export function codesIn(range: { readonly min: number; readonly max: number } | undefined): number[] {
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

function codesOf(table: Table, row: Selecting): number[] {
  const scope = codesIn(table.scope.diameterCodes);
  return codesIn(row.diameterCodes).filter((code) => scope.includes(code));
}

/** Every place where a limit row can decide: only zones in which its characteristic is taken. */
export function placesOfLimit(table: Table, row: LimitRow): Place[] {
  const { zones, states } = characteristicOf(row.characteristic);
  const inStates: readonly (RingState | null)[] =
    states.length === 0 ? [null] : states.filter((state) => row.states?.includes(state) ?? true);
  return componentsOf(table, row).flatMap((component) =>
    (zones[component] ?? [])
      .filter((zone) => row.zones?.includes(zone) ?? true)
      .flatMap((zone) =>
        inStates.flatMap((state) =>
          codesOf(table, row).map((diameterCode) => ({ component, zone, state, diameterCode })),
        ),
      ),
  );
}

/** Every place of a row that is not a limit; a row without zones speaks of any zone. */
export function placesOf(table: Table, row: Exclude<Selecting, LimitRow>): Place[] {
  return componentsOf(table, row).flatMap((component) =>
    (row.zones ?? [null]).flatMap((zone) =>
      codesOf(table, row).map((diameterCode) => ({ component, zone, state: null, diameterCode })),
    ),
  );
}

/** A place as one word, to be compared. */
export function placeKey({ component, zone, state, diameterCode }: Place): string {
  return [component, zone, state, diameterCode].join();
}
