import { z } from 'zod';
import { type Entry, foldInspection, type InspectionState, kinds, ReadingPlace } from '../record/index.ts';
import { submittedParts } from './conclude.ts';
import { handedInFor } from './handedIn.ts';
import type { SiteRole } from './permission.ts';

/** A reading of the inspector without what was read: where, with what, and on which photo if it was taken from one. */
export const AskedReading = ReadingPlace.extend({
  reading: z.uuid(),
  instrument: z.uuid().nullable(),
  repeat: z.int(),
  photo: z.string().nullable(),
});
export type AskedReading = z.infer<typeof AskedReading>;

/** What a second person has to measure, in nobody's numbers. */
export const ToMeasure = z.strictObject({
  /** The submission to be measured again; null: there is none yet. */
  submission: z.strictObject({ entry: z.uuid(), at: z.string(), author: z.string() }).nullable(),
  parts: z.array(z.strictObject({ slot: z.string(), component: z.uuid().nullable() })).readonly(),
  readings: z.array(AskedReading).readonly(),
});
export type ToMeasure = z.infer<typeof ToMeasure>;

/** Why entries of an inspection are kept from a person, and what they need to know instead. */
export const Withheld = ToMeasure.extend({
  why: z.enum(['measure first', 'review under way']),
  status: z.string(),
});
export type Withheld = z.infer<typeof Withheld>;

/** Conditions and evidence: kinds that hold no value, mark or call of a person. Whatever is not named here is withheld. */
const WITHOUT_VALUES: readonly string[] = [
  kinds.inspectionOpened,
  kinds.gateAnswered,
  kinds.pressureRead,
  kinds.photoAttached,
  kinds.photoWithdrawn,
  kinds.scaleSet,
  kinds.surfaceSet,
  kinds.assemblyPointAnswered,
  kinds.inflationStageDone,
  kinds.inflationBrokenOff,
  kinds.partNotFound,
].map((kind) => kind.kind);

/** Whether an entry is a condition or evidence that both people measure from. */
export function isShared(entry: Pick<Entry, 'kind'>): boolean {
  return WITHOUT_VALUES.includes(entry.kind);
}

/** Whether a person has earned the inspector's figures: they handed in their own, or chose to look early. */
export function hasMeasured(state: InspectionState, person: string): boolean {
  const second = state.seconds.get(person);
  return second !== undefined && (second.handedIn.length > 0 || second.lookedEarly !== null);
}

/** What decides whether a person is blind to an inspection. */
export interface Standing {
  readonly status: string;
  /** Authors of evidence, calls and submissions. */
  readonly inspectors: readonly string[];
  /** Reviewers who handed in their own, or chose to look early. */
  readonly measuredBy: readonly string[];
}

/** The standing of an inspection. */
export function standingOf(state: InspectionState): Standing {
  const measuredBy = [...state.seconds.keys()].filter((person) => hasMeasured(state, person)).sort();
  return { status: state.status, inspectors: state.inspectors, measuredBy };
}

function isSettled({ status }: { readonly status: string }): boolean {
  return status === 'concluded' || status === 'reopened';
}

/**
 * Whether the inspector's values, marks and call are kept from a person: they may review here, took no part, and have
 * neither measured nor looked early. It holds from the first entry to the conclusion.
 */
export function mustMeasureFirst(standing: Standing, person: string, roles: readonly SiteRole[]): boolean {
  return (
    roles.includes('reviewer') &&
    !isSettled(standing) &&
    !standing.inspectors.includes(person) &&
    !standing.measuredBy.includes(person)
  );
}

/** Entries of one inspection as far as a person may see them now, and what stands for the rest. */
export interface Seen<E extends Entry> {
  readonly entries: readonly E[];
  /** Null: nothing is kept from them. */
  readonly withheld: Withheld | null;
}

/**
 * What a person with these roles at the site may see of an inspection's entries. A reviewer sees no figure of anybody
 * else before measuring; an inspector sees no figure of the second measurement before the review is concluded.
 */
export function seenBy<E extends Entry>(
  entries: readonly E[],
  person: string,
  roles: readonly SiteRole[],
): Seen<E> {
  const state = foldInspection(entries);
  const blind = mustMeasureFirst(standingOf(state), person, roles);
  const own = new Set(
    entries.filter((entry) => entry.author === person).map((entry) => String(entry.body.question ?? '')),
  );
  const seesSeconds = seesSecondsIn(state, person, roles);
  const shown = entries.filter((entry) => {
    if (entry.author === person) return true;
    if (blind) {
      return (
        isShared(entry) ||
        // What the inspector said to a question of one's own; the measurement then is not a blind one.
        (entry.kind === kinds.questionAnswered.kind && own.has(String(entry.body.question)))
      );
    }
    return !isSecondResult(entry) || seesSeconds(entry.author);
  });
  if (shown.length === entries.length) return { entries, withheld: null };
  return {
    entries: shown,
    withheld: {
      ...toMeasure(state),
      why: blind ? 'measure first' : 'review under way',
      status: state.status,
    },
  };
}

/** Whether an entry holds a value or a call of a second person. What is sent back holds none. */
function isSecondResult({ kind, body }: Entry): boolean {
  return (
    kind === kinds.secondMeasured.kind ||
    (kind === kinds.reviewConcluded.kind && body.outcome === 'handed on')
  );
}

/**
 * Whose second results a person may see: everybody's once it is settled; a lead's who took no part always; a reviewer's
 * those of others who handed in for the newest submission, after they themselves did.
 */
function seesSecondsIn(
  state: InspectionState,
  person: string,
  roles: readonly SiteRole[],
): (author: string) => boolean {
  if (isSettled(state)) return () => true;
  if (state.inspectors.includes(person)) return () => false;
  const submission = state.submission?.entry ?? '';
  const done = (one: string) => handedInFor(state, one, submission) !== null;
  if (roles.includes('reviewer')) return (author) => done(person) && done(author);
  return () => roles.includes('lead');
}

/** What there is to measure again in an inspection: every identified part to call, every reading to read. */
export function toMeasure(state: InspectionState): ToMeasure {
  const { submission } = state;
  return {
    submission:
      submission === null ? null : { entry: submission.entry, at: submission.at, author: submission.author },
    parts: submittedParts(state).map(({ slot, component }) => ({ slot, component })),
    readings: [...state.readings.values()].map(({ value }) => ({
      component: value.component,
      characteristic: value.characteristic,
      zone: value.zone,
      clock: value.clock,
      state: value.state,
      reading: value.reading,
      instrument: value.instrument,
      repeat: value.repeat,
      photo: value.fromPhoto?.photo ?? null,
    })),
  };
}
