import { z } from 'zod';
import { mean } from '../base/index.ts';
import { type Reading, typedStepMm } from '../readings/index.ts';
import {
  foldInspection,
  type InspectionState,
  type InstrumentState,
  readingPlaceKey,
  type SecondMeasurement,
  type Written,
} from '../record/index.ts';
import { instrumentFacts } from '../rules/index.ts';
import { submittedParts } from './conclude.ts';
import { handedInFor, measuredBlind } from './handedIn.ts';
import { type CallPair, ReadingPair, type ReadOnce } from './pairs.ts';

/** What the uncertainty of a reading follows from; which instrument that was, the register knows. */
const ReadFacts = z.strictObject({
  valueMm: z.number(),
  instrument: z.uuid().nullable(),
  /** When it was read, ISO 8601. */
  at: z.string(),
  /** The step it was typed to, mm. */
  stepMm: z.number(),
  /** Standard uncertainty of a size taken from a mark, mm; null: read on a gauge. */
  markUMm: z.number().nullable(),
});
type ReadFacts = z.infer<typeof ReadFacts>;

/** A reading pair before the register of instruments is looked at. */
export const ReadingPairFacts = ReadingPair.extend({ first: ReadFacts, second: ReadFacts });
export type ReadingPairFacts = z.infer<typeof ReadingPairFacts>;

/** Everything an inspection gives to the agreement between people. */
export interface PairsOfInspection {
  readonly readings: readonly ReadingPairFacts[];
  readonly calls: readonly CallPair[];
}

const NONE: PairsOfInspection = { readings: [], calls: [] };

/**
 * Pairs of a concluded inspection: every place that both the inspector and a second person read, and every part that
 * both called, for each reviewer who handed in a measurement of the submission that was concluded. None before the
 * conclusion, and none while late evidence keeps it open.
 */
export function pairsOf(state: InspectionState): PairsOfInspection {
  const { conclusion, submission } = state;
  if (state.status !== 'concluded' || conclusion === null || submission === null) return NONE;
  const each = [...state.seconds]
    // What was handed in after the conclusion was measured with both results in sight.
    .filter(([reviewer]) => {
      const one = handedInFor(state, reviewer, submission.entry);
      return one !== null && one.at <= conclusion.at;
    })
    .map(([reviewer, second]) => pairsWith(state, submission, conclusion.at, reviewer, second));
  return { readings: each.flatMap((one) => one.readings), calls: each.flatMap((one) => one.calls) };
}

function pairsWith(
  state: InspectionState,
  submission: NonNullable<InspectionState['submission']>,
  at: string,
  reviewer: string,
  second: SecondMeasurement,
): PairsOfInspection {
  const own = foldInspection(second.entries);
  const blind = measuredBlind(state, reviewer, submission.entry);
  const shared = { inspection: state.id, at, reviewer, blind };
  const theirs = byPlace(own.readings);
  const readings = [...byPlace(state.readings)].flatMap(([place, [one, ...more]]) => {
    const again = theirs.get(place);
    if (again === undefined) return [];
    const { component, characteristic, clock, state: ring } = one.value;
    return [
      {
        ...shared,
        component,
        inspector: one.author,
        characteristic,
        clock,
        state: ring,
        first: factsOf([one, ...more]),
        second: factsOf(again),
      },
    ];
  });
  const calls = submittedParts(state).flatMap(({ slot, component, result }) => {
    const call = component === null ? undefined : own.calls.get(component);
    if (component === null || call === undefined) return [];
    const made = state.calls.get(component);
    // Who submits a verdict without a call of their own has called what it says.
    const [inspector, first] = [made?.author ?? submission.author, made?.value.call ?? result];
    return [{ ...shared, component, slot, inspector, first, second: call.value.call }];
  });
  return { readings, calls };
}

type OfOnePlace = readonly [Written<Reading>, ...Written<Reading>[]];

function byPlace(readings: ReadonlyMap<string, Written<Reading>>): ReadonlyMap<string, OfOnePlace> {
  const places = new Map<string, OfOnePlace>();
  for (const one of readings.values()) {
    const key = readingPlaceKey(one.value);
    const known = places.get(key);
    places.set(key, known === undefined ? [one] : [...known, one]);
  }
  return places;
}

/** Repeats at a place are averaged; the uncertainty stays that of one reading: own choice, on the safe side. */
function factsOf(repeats: OfOnePlace): ReadFacts {
  const [{ value, at }] = repeats;
  return {
    valueMm: mean(repeats.map((one) => one.value.valueMm)),
    instrument: value.instrument,
    at,
    stepMm: Math.max(...repeats.map((one) => typedStepMm(one.value.typed, one.value.defaultUnit))),
    markUMm: value.fromPhoto?.uMm ?? null,
  };
}

/** A pair with its uncertainties, from the instruments of the site; null where no instrument is known. */
export function pairInRegister(
  facts: ReadingPairFacts,
  instruments: ReadonlyMap<string, InstrumentState>,
): ReadingPair {
  return { ...facts, first: readOnce(facts.first, instruments), second: readOnce(facts.second, instruments) };
}

function readOnce(
  { valueMm, instrument, at, stepMm, markUMm }: ReadFacts,
  instruments: ReadonlyMap<string, InstrumentState>,
): ReadOnce {
  if (markUMm !== null) return { valueMm, instrument, uMm: Math.hypot(markUMm, stepMm / Math.sqrt(12)) };
  const known = instrument === null ? undefined : instruments.get(instrument);
  return {
    valueMm,
    instrument,
    uMm: known === undefined ? null : instrumentFacts(known, at, stepMm).uMm,
  };
}
