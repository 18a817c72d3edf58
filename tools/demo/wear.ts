import { must } from '../../lib/base/index.ts';
import type { CharacteristicId, RingState } from '../../lib/wheel/index.ts';
import { chanceFrom, seedOf } from './random.ts';

/** Something that wears: one number per part, the worst place round it. */
export type Wearing = Extract<
  CharacteristicId,
  'gutter depth' | 'flange wear' | 'bead seat wear' | 'lock-ring gap'
>;

/** A characteristic as new and what thousand hours of work take from it or add to it, mm. Invented. */
interface Law {
  readonly asNew: number;
  readonly perThousandHours: number;
  /** Of two parts alike one may wear this many times as fast as the other, at most. */
  readonly between: number;
}

const LAWS: Readonly<Record<Exclude<Wearing, 'lock-ring gap'>, Law>> = {
  'gutter depth': { asNew: 11.8, perThousandHours: -0.028, between: 2.2 },
  'flange wear': { asNew: 0, perThousandHours: 0.034, between: 2.5 },
  'bead seat wear': { asNew: 0, perThousandHours: 0.023, between: 2.2 },
};

const RING_LAWS: Readonly<Record<RingState, Law>> = {
  // A ring that loses its spring overlaps less when it lies free, and its gap grows when it is fitted.
  free: { asNew: -52, perThousandHours: 0.45, between: 2 },
  fitted: { asNew: 7.5, perThousandHours: 0.13, between: 2.2 },
  inflated: { asNew: 6, perThousandHours: 0.13, between: 2.2 },
};

/** Share of the wear that the best place round the rim has of the worst. */
const BEST_SHARE = 0.86;

/** A day, counted back from today, on which the truth is known because a picture of it was made. */
export interface Pin {
  readonly days: number;
  readonly value: number;
}

/** What of a part wears, where and how. */
export interface WearOf {
  /** Names the part, so that it wears alike each time the demonstration is told. */
  readonly part: string;
  readonly characteristic: Wearing;
  readonly state: RingState | null;
  /** Hours it had worked by a day, counted back from today. */
  hoursAt(days: number): number;
  /** Truths that are given, longest ago first. */
  readonly pins: readonly Pin[];
  /** Clock position of the worst place; null: chance says. */
  readonly worstClock: number | null;
}

/** The value of a new part, mm. */
export function asNew(characteristic: Wearing, state: RingState | null): number {
  return lawOf({ characteristic, state }).asNew;
}

function lawOf({ characteristic, state }: Pick<WearOf, 'characteristic' | 'state'>): Law {
  if (characteristic === 'lock-ring gap') return RING_LAWS[must(state ?? undefined, 'a state of the ring')];
  return LAWS[characteristic];
}

/** The value at the worst place of a part on a day, mm. */
export function worstAt(wear: WearOf, days: number): number {
  const law = lawOf(wear);
  const hours = wear.hoursAt(days);
  const before = wear.pins.findLast((pin) => pin.days >= days);
  const after = wear.pins.find((pin) => pin.days < days);
  if (before !== undefined && after !== undefined) {
    const share = (before.days - days) / (before.days - after.days);
    return before.value + share * (after.value - before.value);
  }
  if (before !== undefined) return before.value + rateOf(wear) * (hours - wear.hoursAt(before.days));
  if (after === undefined) return law.asNew + rateOf(wear) * hours;
  // Worn evenly from new to the first truth known.
  return law.asNew + (hours / wear.hoursAt(after.days)) * (after.value - law.asNew);
}

/** mm per hour; the same chance for all states of a ring, as they change together. */
function rateOf(wear: WearOf): number {
  const { perThousandHours, between } = lawOf(wear);
  const chance = chanceFrom(seedOf(`${wear.part} ${wear.characteristic}`));
  return (perThousandHours / 1000) * between ** (chance.next() - 0.5);
}

/** The value at a clock position on a day; null stands for the part as a whole. */
export function valueAt(wear: WearOf, days: number, clock: number | null): number {
  const worst = worstAt(wear, days);
  if (clock === null) return worst;
  const fresh = lawOf(wear).asNew;
  const worstClock =
    wear.worstClock ?? 1 + chanceFrom(seedOf(`${wear.part} ${wear.characteristic} clock`)).below(12);
  const away = (1 - Math.cos(((clock - worstClock) * Math.PI) / 6)) / 2;
  return fresh + (worst - fresh) * (1 - (1 - BEST_SHARE) * away);
}
