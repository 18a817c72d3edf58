import type { CharacteristicId, ComponentKind, ConstructionId, RingState, Side, ZoneId } from './ids.ts';

/** A place for one component in a construction; `slot` is unique within it. */
export interface Slot {
  readonly slot: string;
  readonly kind: ComponentKind;
  readonly side: Side | 'both';
  /** False for what is renewed at every assembly and not inspected for further use. */
  readonly inspected: boolean;
  readonly zones: readonly SlotZone[];
  readonly readings: readonly RequiredReading[];
}

/** A zone of a slot and whether a full inspection needs a photo of it. Every zone needs a look. */
export interface SlotZone {
  readonly zone: ZoneId;
  readonly photo: boolean;
}

/** A reading that a full inspection needs. `positions` are clock positions; empty means one reading, anywhere. */
export interface RequiredReading {
  readonly characteristic: CharacteristicId;
  readonly positions: readonly number[];
  readonly states: readonly RingState[];
}

/** A rim construction as data: which components it has and what a full inspection of each needs. */
export interface Construction {
  readonly id: ConstructionId;
  readonly title: string;
  readonly slots: readonly Slot[];
}
