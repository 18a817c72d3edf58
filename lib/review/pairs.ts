import { z } from 'zod';
import { Call } from '../record/index.ts';
import { CharacteristicId, ClockPosition, RingState } from '../wheel/index.ts';

/** One person's reading at a place; repeats there are averaged. Lengths in mm. */
export const ReadOnce = z.strictObject({
  valueMm: z.number(),
  /** Standard uncertainty of a single reading, mm; null: none can be stated. */
  uMm: z.number().nonnegative().nullable(),
  instrument: z.uuid().nullable(),
});
export type ReadOnce = z.infer<typeof ReadOnce>;

const Shared = {
  inspection: z.uuid(),
  /** When the review was concluded, ISO 8601. */
  at: z.string(),
  component: z.uuid(),
  inspector: z.string(),
  reviewer: z.string(),
  /** Whether the reviewer had not looked at the inspector's figures before measuring. */
  blind: z.boolean(),
};

/** The same place read by an inspector and, in the review, by a second person. */
export const ReadingPair = z.strictObject({
  ...Shared,
  characteristic: CharacteristicId,
  clock: ClockPosition.nullable(),
  state: RingState.nullable(),
  first: ReadOnce,
  second: ReadOnce,
});
export type ReadingPair = z.infer<typeof ReadingPair>;

/** The same part called by an inspector and by a second person. */
export const CallPair = z.strictObject({ ...Shared, slot: z.string(), first: Call, second: Call });
export type CallPair = z.infer<typeof CallPair>;

/** Which pairs are looked at; null takes all. Dates are whole days in UTC, both included. */
export interface PairFilter {
  readonly from: string | null;
  readonly to: string | null;
  readonly inspector: string | null;
  readonly reviewer: string | null;
  /** Pairs of which either reading was taken with it; calls have no instrument and pass. */
  readonly instrument: string | null;
  /** Calls have no characteristic and pass. */
  readonly characteristic: CharacteristicId | null;
  /** Whether pairs of which the second was not measured blind are left out. */
  readonly blindOnly: boolean;
}

/** A filter that takes every pair measured blind. */
export const ALL_PAIRS: PairFilter = {
  from: null,
  to: null,
  inspector: null,
  reviewer: null,
  instrument: null,
  characteristic: null,
  blindOnly: true,
};

/** The pairs that a filter takes, in their order. */
export function pairsWithin<P extends ReadingPair | CallPair>(
  pairs: readonly P[],
  filter: PairFilter,
): readonly P[] {
  return pairs.filter((pair) => {
    const day = pair.at.slice(0, 10);
    return (
      (filter.from === null || day >= filter.from) &&
      (filter.to === null || day <= filter.to) &&
      (filter.inspector === null || pair.inspector === filter.inspector) &&
      (filter.reviewer === null || pair.reviewer === filter.reviewer) &&
      (pair.blind || !filter.blindOnly) &&
      (!('characteristic' in pair) || takesReading(pair, filter))
    );
  });
}

function takesReading(pair: ReadingPair, { instrument, characteristic }: PairFilter): boolean {
  return (
    (characteristic === null || pair.characteristic === characteristic) &&
    (instrument === null || pair.first.instrument === instrument || pair.second.instrument === instrument)
  );
}

/** Pairs of one quantity: readings of different ones are never compared with each other. */
export interface PairGroup {
  readonly characteristic: CharacteristicId;
  readonly state: RingState | null;
  readonly pairs: readonly ReadingPair[];
}

/** Reading pairs by characteristic and state of the ring, in the order of their first appearance. */
export function pairGroups(pairs: readonly ReadingPair[]): readonly PairGroup[] {
  const groups = new Map<
    string,
    { characteristic: CharacteristicId; state: RingState | null; pairs: ReadingPair[] }
  >();
  for (const pair of pairs) {
    const { characteristic, state } = pair;
    const key = `${characteristic}|${state ?? ''}`;
    const group = groups.get(key) ?? { characteristic, state, pairs: [] };
    group.pairs.push(pair);
    groups.set(key, group);
  }
  return [...groups.values()];
}
