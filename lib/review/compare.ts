import { type Mark, type MarkPair, pairMarks } from '../marks/index.ts';
import type { Call, InspectionState } from '../record/index.ts';
import { combine, type Evidence, groupsAt, type ReadingEvidence, type Result } from '../rules/index.ts';
import { normalisedError } from './agreement/index.ts';
import { submittedParts } from './conclude.ts';

/** Coverage factor of the expanded uncertainties that are compared. */
const K = 2;

/** A value with its standard uncertainty, mm or mm². */
interface Value {
  readonly value: number;
  readonly u: number;
}

/** Two people's readings at one place. Lengths in mm. */
export interface ReadingCompared {
  readonly characteristic: ReadingEvidence['characteristic'];
  readonly clock: number | null;
  readonly state: ReadingEvidence['state'];
  readonly zone: ReadingEvidence['zone'];
  /** Null: that person has no reading here. */
  readonly first: Value | null;
  readonly second: Value | null;
  /** Second less first. */
  readonly difference: number | null;
  /** Expanded uncertainty (k = 2) of the difference. */
  readonly U: number | null;
  /** Normalised error; up to 1 in size the two agree. Null without both readings or without any uncertainty. */
  readonly En: number | null;
}

/** A size that a photo gives of a mark. */
export interface MarkSize extends Value {
  readonly quantity: 'length' | 'area' | 'angle';
}

/** Two people's marks of one thing, with their sizes. */
export interface MarkCompared extends MarkPair<Mark> {
  readonly sizes: { readonly first: MarkSize | null; readonly second: MarkSize | null };
  readonly difference: number | null;
  readonly U: number | null;
  readonly En: number | null;
}

/** One part as two people see it. */
export interface PartCompared {
  readonly slot: string;
  readonly component: string | null;
  readonly calls: {
    readonly inspector: Call | null;
    /** The engine's class under the inspector's numbers, as submitted. */
    readonly submitted: Call;
    /** The engine's class under the reviewer's numbers. */
    readonly second: Result;
    readonly reviewer: Call | null;
  };
  readonly readings: readonly ReadingCompared[];
  readonly marks: readonly MarkCompared[];
  /** What they disagree on, in words; empty where they agree. */
  readonly disagreements: readonly string[];
}

function compared(first: Value | null, second: Value | null) {
  if (first === null || second === null) return { difference: null, U: null, En: null };
  const [a, b] = [
    { value: second.value, U: K * second.u },
    { value: first.value, U: K * first.u },
  ];
  return {
    difference: second.value - first.value,
    U: K * Math.hypot(first.u, second.u),
    En: normalisedError(a, b),
  };
}

const keyOf = ({ characteristic, clock, state }: ReadingEvidence) => `${characteristic}|${clock}|${state}`;

function placeValue(readings: readonly ReadingEvidence[]): Value | null {
  if (readings.length === 0) return null;
  const { value, u } = combine(groupsAt(readings));
  return { value, u };
}

/**
 * Pairs the readings of one part place by place: difference, its expanded uncertainty and the normalised error (ISO
 * 13528). Repeats at a place are put together as the engine does. Where both read the same gauge its calibration is in
 * both, so that the stated U of the difference is rather too large than too small.
 */
export function compareReadings(
  first: readonly ReadingEvidence[],
  second: readonly ReadingEvidence[],
): ReadingCompared[] {
  const keys = [...new Set([...first, ...second].map(keyOf))];
  return keys.map((key) => {
    const [a, b] = [first, second].map((readings) => readings.filter((one) => keyOf(one) === key)) as [
      ReadingEvidence[],
      ReadingEvidence[],
    ];
    const { characteristic, clock, state, zone } = (a[0] ?? b[0]) as ReadingEvidence;
    const values = { first: placeValue(a), second: placeValue(b) };
    return { characteristic, clock, state, zone, ...values, ...compared(values.first, values.second) };
  });
}

/** Gives the size of a mark of either person as their scale has it; null where the photo gives none. */
export type SizeOf = (mark: Mark, person: 'first' | 'second') => MarkSize | null;

/** Pairs the marks of one part, with the sizes that each person's scale gives. */
export function compareMarks(
  first: readonly Mark[],
  second: readonly Mark[],
  sizeOf: SizeOf,
): MarkCompared[] {
  return pairMarks(first, second).map((pair) => {
    const sizes = {
      first: pair.first === null ? null : sizeOf(pair.first, 'first'),
      second: pair.second === null ? null : sizeOf(pair.second, 'second'),
    };
    const alike = sizes.first?.quantity === sizes.second?.quantity;
    return { ...pair, sizes, ...compared(alike ? sizes.first : null, alike ? sizes.second : null) };
  });
}

function isBeyond(En: number | null): boolean {
  return En !== null && Math.abs(En) > 1;
}

function disagreementsOf(part: Omit<PartCompared, 'disagreements'>): string[] {
  const { calls, readings, marks } = part;
  const beyond = readings.filter(({ En }) => isBeyond(En)).length;
  const lone = marks
    .filter(({ first, second }) => (first?.defect ?? second?.defect) !== null)
    .filter(({ first, second }) => first === null || second === null);
  const sized = marks.filter(({ En }) => isBeyond(En)).length;
  const named = marks.filter(
    ({ first, second }) => first !== null && second !== null && first.defect !== second.defect,
  ).length;
  const said = (count: number, one: string, many: string) =>
    count === 0 ? [] : [count === 1 ? one : `${count} ${many}`];
  return [
    ...(calls.reviewer !== null && calls.reviewer !== calls.submitted
      ? [`the call: ${calls.submitted} submitted, ${calls.reviewer} by the reviewer`]
      : []),
    ...(calls.second !== calls.submitted
      ? [`the class: ${calls.submitted} under the inspector's numbers, ${calls.second} under the reviewer's`]
      : []),
    ...said(beyond, 'a reading beyond its uncertainty', 'readings beyond their uncertainty'),
    ...said(lone.length, 'a mark that only one of them has', 'marks that only one of them has'),
    ...said(named, 'what a mark is', 'marks of which they say different things'),
    ...said(sized, 'the size of a mark', 'sizes of marks'),
  ];
}

/** Everything two people have of one inspection, side by side. */
export interface ToCompare {
  /** Folded from all entries; its submission is the one compared. */
  readonly state: InspectionState;
  /** `secondState` of the reviewer. */
  readonly own: InspectionState;
  /** Evidence of the submitted verdict, and evidence in the reviewer's numbers. */
  readonly first: Evidence;
  readonly second: Evidence;
  /** The engine's classes under the reviewer's numbers, by slot. */
  readonly classes: ReadonlyMap<string, Result>;
  readonly sizeOf: SizeOf;
}

/** Compares part by part; parts with disagreements come first, those with most of them before the others. */
export function compareParts({ state, own, first, second, classes, sizeOf }: ToCompare): PartCompared[] {
  const parts = submittedParts(state).map(({ slot, component, result }): PartCompared => {
    const readingsIn = (evidence: Evidence) =>
      evidence.parts.find((part) => part.slot === slot)?.readings ?? [];
    const marksOf = (one: InspectionState) =>
      [...one.marks.values()].map(({ value }) => value).filter((mark) => mark.component === component);
    const part = {
      slot,
      component,
      calls: {
        inspector: (component === null ? undefined : state.calls.get(component)?.value.call) ?? null,
        submitted: result,
        second: classes.get(slot) ?? 'hold',
        reviewer: (component === null ? undefined : own.calls.get(component)?.value.call) ?? null,
      },
      readings: compareReadings(
        readingsIn(first),
        readingsIn(second).filter(({ id }) => own.readings.has(id)),
      ),
      marks: compareMarks(marksOf(state), marksOf(own), sizeOf),
    };
    return { ...part, disagreements: disagreementsOf(part) };
  });
  return parts.sort((a, b) => b.disagreements.length - a.disagreements.length);
}
