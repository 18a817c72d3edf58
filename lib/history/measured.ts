import { z } from 'zod';
import { characteristicOf } from '../readings/index.ts';
import type { InspectionState } from '../record/index.ts';
import { Evidence, placesOf, type ReadingEvidence } from '../rules/index.ts';
import { CharacteristicId, RingState, ZoneId } from '../wheel/index.ts';

/** What one inspection says of one quantity of a part: the value of its worst place. */
export const WearMeasured = z.strictObject({
  component: z.string(),
  slot: z.string(),
  characteristic: CharacteristicId,
  zone: ZoneId,
  state: RingState.nullable(),
  /** Value that governs, mm, its standard uncertainty and its clock position. */
  valueMm: z.number(),
  uMm: z.number().nonnegative(),
  clock: z.number().nullable(),
  /** Every clock position read, and how many readings were taken. */
  clocks: z.array(z.number().nullable()).readonly(),
  readings: z.int().min(1),
});
export type WearMeasured = z.infer<typeof WearMeasured>;

/** All that one inspection measured. */
export const InspectionMeasured = z.strictObject({
  inspection: z.string(),
  wheel: z.string(),
  /** When it was submitted, ISO 8601. */
  at: z.string(),
  settled: z.boolean(),
  measured: z.array(WearMeasured).readonly(),
});
export type InspectionMeasured = z.infer<typeof InspectionMeasured>;

/** What was sent back will be measured or told again; until then it says nothing of wear. */
const COUNTED: readonly InspectionState['status'][] = [
  'submitted',
  'asked',
  'third person',
  'concluded',
  'reopened',
];

/**
 * What a submitted inspection measured, from the evidence its verdict rests on; null while it is open or sent back, and
 * where this version cannot read that evidence. Readings by instruments out of calibration are among them, as in the
 * verdict: the value that governs a place is the worst that its readings give.
 */
export function measuredIn(state: InspectionState): InspectionMeasured | null {
  const { submission, wheel } = state;
  if (submission === null || wheel === null || !COUNTED.includes(state.status)) return null;
  const evidence = Evidence.safeParse(submission.value.verdict.inputs);
  if (!evidence.success) return null;
  return {
    inspection: state.id,
    wheel,
    at: submission.at,
    settled: state.status === 'concluded',
    measured: evidence.data.parts.flatMap(({ component, slot, readings }) =>
      component === null ? [] : quantities(readings).map((own) => ({ component, slot, ...own })),
    ),
  };
}

function quantities(readings: readonly ReadingEvidence[]): Omit<WearMeasured, 'component' | 'slot'>[] {
  const groups = new Map<string, ReadingEvidence[]>();
  for (const reading of readings) {
    const key = [reading.characteristic, reading.zone, reading.state].join('|');
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const { characteristic, zone, state } = first;
    return [{ characteristic, zone, state, ...worstOf(group), readings: group.length }];
  });
}

/** The worst value of the worst place; where both ways are worse, the one furthest from the mean of all places. */
function worstOf(readings: readonly [ReadingEvidence, ...ReadingEvidence[]] | readonly ReadingEvidence[]) {
  const places = placesOf(readings);
  const takes = places.flatMap(({ clock, takes }) =>
    takes.bearing.map(({ value, u }) => ({ clock, value, u })),
  );
  const middle = takes.reduce((sum, { value }) => sum + value, 0) / takes.length;
  const worse = characteristicOf((readings[0] as ReadingEvidence).characteristic).worse;
  const badness = (value: number) =>
    worse === 'lower' ? -value : worse === 'higher' ? value : Math.abs(value - middle);
  const worst = takes.reduce((so, one) => (badness(one.value) > badness(so.value) ? one : so));
  return {
    valueMm: worst.value,
    uMm: worst.u,
    clock: worst.clock,
    clocks: places.map(({ clock }) => clock),
  };
}
