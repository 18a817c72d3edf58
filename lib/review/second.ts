import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type Entry, foldInspection, type InspectionState, kinds, readingPlaceKey } from '../record/index.ts';
import { isBarred, mayReview } from './conclude.ts';
import { handedInFor } from './handedIn.ts';
import { type AskedReading, isShared, type ToMeasure } from './withheld.ts';

const SCALES: readonly string[] = [kinds.scaleSet.kind, kinds.surfaceSet.kind];

/** Kinds of the first person that a second measurement takes the place of. */
const FIRST_VALUES: readonly string[] = [
  kinds.markDrawn,
  kinds.markRedrawn,
  kinds.markWithdrawn,
  kinds.markLookedAt,
  kinds.defectNoted,
  kinds.defectWithdrawn,
  kinds.readingEntered,
  kinds.readingCorrected,
  kinds.readingWithdrawn,
  kinds.callMade,
  kinds.secondMeasured,
].map((kind) => kind.kind);

/** What is said between the two; others' questions are not on the device of somebody who has yet to measure. */
const SAID: readonly string[] = [kinds.questionAsked.kind, kinds.questionAnswered.kind];

function ownEntries(entries: readonly Entry[], reviewer: string): readonly Entry[] {
  return foldInspection(entries).seconds.get(reviewer)?.entries ?? [];
}

/** Leaves out scales and surfaces of photos for which the reviewer has set their own, whenever that was. */
function withoutReplaced(entries: readonly Entry[], own: readonly Entry[]): Entry[] {
  const key = ({ kind, body }: Entry) => `${kind}|${String(body.photo)}`;
  const replaced = new Set(own.filter(({ kind }) => SCALES.includes(kind)).map(key));
  return entries.filter((entry) => !SCALES.includes(entry.kind) || !replaced.has(key(entry)));
}

/**
 * The entries of an inspection as one reviewer has measured it so far: conditions and photos as they are, values, marks
 * and calls of the reviewer alone, in the words of an inspector.
 */
export function secondEntries(entries: readonly Entry[], reviewer: string): Entry[] {
  const own = ownEntries(entries, reviewer);
  const shown = entries.filter((entry) => isShared(entry) || SAID.includes(entry.kind));
  return [...withoutReplaced(shown, own), ...own];
}

/** The state that `secondEntries` fold into. */
export function secondState(entries: readonly Entry[], reviewer: string): InspectionState {
  return foldInspection(secondEntries(entries, reviewer));
}

/** An inspection in the second person's numbers. */
export interface InSecondNumbers {
  readonly state: InspectionState;
  /** Readings that stay the inspector's, because the reviewer has none at their place. */
  readonly filled: number;
}

/**
 * The inspection with the reviewer's values, marks and calls in place of the inspector's: what the engine would have
 * said, had the second person been at the wheel. Where the evidence shows no gauge, the inspector's reading stays.
 */
export function inSecondNumbers(entries: readonly Entry[], reviewer: string): InSecondNumbers {
  const own = ownEntries(entries, reviewer);
  const first = foldInspection(entries);
  const second = foldInspection(own);
  const read = new Set([...second.readings.values()].map(({ value }) => readingPlaceKey(value)));
  const filled = [...first.readings.values()].filter(({ value }) => !read.has(readingPlaceKey(value)));
  const readings = new Set(filled.map(({ value }) => value.reading));
  const kept = entries
    .filter((entry) => !FIRST_VALUES.includes(entry.kind) || readings.has(String(entry.body.reading)))
    .map((entry) => asLookedAgain(entry, first, second));
  return { state: foldInspection([...withoutReplaced(kept, own), ...own]), filled: filled.length };
}

/**
 * A look as the second person has it: what they marked there, or nothing seen where a photo shows the zone. What the
 * inspector could not see, and zones without a photo, stay as the inspector has them.
 */
function asLookedAgain(entry: Entry, first: InspectionState, second: InspectionState): Entry {
  const { component, zone, result } = entry.body;
  if (entry.kind !== kinds.zoneLookedAt.kind || result === 'could not be seen') return entry;
  const isHere = ({ value }: { readonly value: { readonly component: string; readonly zone: string } }) =>
    value.component === component && value.zone === zone;
  const found =
    [...second.marks.values()].some((mark) => mark.value.defect !== null && isHere(mark)) ||
    [...second.defects.values()].some(isHere);
  if (!found && ![...first.photos.values()].some(isHere)) return entry;
  return { ...entry, body: { ...entry.body, result: found ? 'defect recorded' : 'nothing seen' } };
}

/** What a second measurement still lacks. */
export interface StillOpen {
  readonly calls: ToMeasure['parts'];
  /** Places of which neither a value nor "not readable" is said. */
  readonly readings: readonly AskedReading[];
}

/** What the reviewer has not measured yet; `own` is `secondState`. */
export function stillOpen(
  { parts, readings }: ToMeasure,
  own: InspectionState,
  notReadable: readonly string[],
): StillOpen {
  const read = new Set([...own.readings.values()].map(({ value }) => readingPlaceKey(value)));
  return {
    calls: parts.filter(({ component }) => component !== null && !own.calls.has(component)),
    readings: readings.filter(
      (place) => !read.has(readingPlaceKey(place)) && !notReadable.includes(place.reading),
    ),
  };
}

/**
 * Whether a reviewer may hand in: on the newest submission, once, a call for every identified part and a value or
 * "not readable" for every reading. Fails with the first problem.
 */
export function mayHandIn(
  asked: ToMeasure,
  own: InspectionState,
  handedIn: { readonly submission: string; readonly notReadable: readonly string[] },
): Result<true, Problem> {
  if (asked.submission === null || handedIn.submission !== asked.submission.entry) {
    return fail(
      problem(
        'second-stale',
        'body.submission',
        handedIn.submission,
        'The inspection has been submitted again since',
        'Load it again; what you measured is kept.',
      ),
    );
  }
  const open = stillOpen(asked, own, handedIn.notReadable);
  const call = open.calls[0];
  if (call !== undefined) {
    return fail(
      problem(
        'second-call-missing',
        'your call',
        call.slot,
        `There is no call of your own for the ${call.slot}`,
        'Make a call for every part.',
      ),
    );
  }
  const reading = open.readings[0];
  if (reading !== undefined) {
    return fail(
      problem(
        'second-reading-missing',
        'notReadable',
        reading.reading,
        `The ${reading.characteristic} has neither your value nor the word that the photos do not show it`,
        'Read the gauge in the photo, or say that it cannot be read there.',
      ),
    );
  }
  return ok(true);
}

/**
 * Whether a reviewer may write something of a second measurement now: submitted and not concluded, not their own work, not
 * one of two who disagreed twice, and their own measurement of this submission not handed in yet. Fails with the first
 * problem.
 */
export function mayMeasure(state: InspectionState, person: string): Result<true, Problem> {
  const may = mayReview(state, person);
  if (!may.ok) return may;
  if ((state.conclusion !== null && state.status !== 'third person') || isBarred(state, person)) {
    return fail(
      problem(
        'second-concluded',
        'body',
        state.status,
        'This submission waits for no measurement of yours: its review is concluded',
        'Load it again. Whoever measures now has both results in sight.',
      ),
    );
  }
  const handedIn = handedInFor(state, person, state.submission?.entry ?? '');
  if (handedIn === null) return ok(true);
  return fail(
    problem(
      'second-handed-in',
      'body',
      person,
      'Your measurement of this submission is handed in and stands as it is',
      'Say what you see now in your conclusion, or ask the inspector.',
    ),
  );
}
