import type { CharacteristicId, ComponentKind, RingState, ZoneId } from '../wheel/index.ts';

/** Something that is measured: where, in what states, how, and which values are plausible. */
export interface Characteristic {
  readonly id: CharacteristicId;
  readonly label: string;
  /** What the number means, in one sentence. */
  readonly meaning: string;
  /** How to take it, in one or two sentences. */
  readonly how: string;
  readonly quantity: 'length' | 'area';
  /** Component kinds that have it; the zone says where on each. */
  readonly zones: Readonly<Partial<Record<ComponentKind, readonly ZoneId[]>>>;
  readonly states: readonly RingState[];
  /** Which way a worse part moves the number. `either` when both ways are worse. */
  readonly worse: 'higher' | 'lower' | 'either';
  /** Values outside (mm or mm²) ask for a second look; they are not refused. Our own choice, no source. */
  readonly plausible: { readonly min: number; readonly max: number };
  /** Taken by hand with a gauge or tape, or derived from marks on photos. */
  readonly takenFrom: 'gauge' | 'marks';
}
