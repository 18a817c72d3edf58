import type { z } from 'zod';
import type { Reading } from '../readings/index.ts';
import type { Entry } from './entry.ts';
import type { reviewConcluded } from './kinds/conclusion.ts';
import type { questionAnswered, questionAsked } from './kinds/question.ts';
import type { figuresLookedAt, secondHandedIn, secondMeasured } from './kinds/second.ts';
import type { Written } from './written.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

/**
 * `asked`: submitted, and a question to the inspector is open. `third person`: two people disagreed twice, somebody else
 * has to measure. `reopened`: evidence came after the review.
 */
export type InspectionStatus =
  | 'open'
  | 'submitted'
  | 'asked'
  | 'third person'
  | 'sent back'
  | 'concluded'
  | 'reopened';

/** What one reviewer measured. */
export interface SecondMeasurement {
  /** Their values as an inspector would have written them, oldest first. */
  readonly entries: readonly Entry[];
  /** By entry of `entries`: the photo in which a gauge was read. */
  readonly seenIn: ReadonlyMap<string, string>;
  /** Oldest first; one for each submission that they measured again. */
  readonly handedIn: readonly Written<BodyOf<typeof secondHandedIn>>[];
  /** When they first looked at the inspector's figures before handing in, if they did. */
  readonly lookedEarly: Written<BodyOf<typeof figuresLookedAt>> | null;
}

/** A question to the inspector and what became of it. */
export interface Question {
  readonly asked: Written<BodyOf<typeof questionAsked>>;
  readonly answer: Written<string> | null;
  /** The reading that was entered after it at its place, where another reading was asked for. */
  readonly reading: string | null;
}

/** Key of the place at which something is read; two people's readings at one place are a pair. */
export function readingPlaceKey({ component, characteristic, clock, state }: ReadingPlaceKeyed): string {
  return [component, characteristic, clock ?? '', state ?? ''].join('|');
}

type ReadingPlaceKeyed = Pick<Reading, 'component' | 'characteristic' | 'clock' | 'state'>;

/** A second measurement being folded. */
export interface SecondDraft {
  entries: Entry[];
  seenIn: Map<string, string>;
  handedIn: Written<BodyOf<typeof secondHandedIn>>[];
  lookedEarly: Written<BodyOf<typeof figuresLookedAt>> | null;
}

interface SecondsDraft {
  readonly seconds: Map<string, SecondDraft>;
}

/** The second measurement of a reviewer, begun when it is not there. */
export function secondOf(draft: SecondsDraft, reviewer: string): SecondDraft {
  const known = draft.seconds.get(reviewer);
  if (known !== undefined) return known;
  const begun: SecondDraft = { entries: [], seenIn: new Map(), handedIn: [], lookedEarly: null };
  draft.seconds.set(reviewer, begun);
  return begun;
}

/** Takes what a reviewer measured. */
export function measuredAgain(
  draft: SecondsDraft,
  { value: { of, v, body, seenIn }, author, entry: id }: Written<BodyOf<typeof secondMeasured>>,
  entry: Entry,
): void {
  const second = secondOf(draft, author);
  second.entries.push({ ...entry, kind: of, v, body });
  if (seenIn !== null) second.seenIn.set(id, seenIn);
}

/** A question with its answer, or the reading that answers it. */
export function questionOf(
  asked: Question['asked'],
  answer: Written<BodyOf<typeof questionAnswered>> | undefined,
  readings: ReadonlyMap<string, Written<Reading>>,
): Question {
  const { pin, wants } = asked.value;
  const after =
    wants === 'another reading' && pin.on === 'reading'
      ? [...readings.values()].find(
          ({ value, at }) => at > asked.at && readingPlaceKey(value) === readingPlaceKey(pin.place),
        )
      : undefined;
  return {
    asked,
    answer: answer === undefined ? null : { ...answer, value: answer.value.text },
    reading: after?.value.reading ?? null,
  };
}

/** Whether a question still waits for the inspector. */
export function isOpenQuestion({ answer, reading }: Question): boolean {
  return answer === null && reading === null;
}

/** Where an inspection stands. `late`: evidence came after the submission; `question`: one is open. */
export function statusOf(
  submitted: boolean,
  outcome: BodyOf<typeof reviewConcluded>['outcome'] | null,
  late: boolean,
  question: boolean,
): InspectionStatus {
  if (!submitted) return 'open';
  // Readings that came on a question count once the inspector has submitted them.
  if (outcome === null) return question || late ? 'asked' : 'submitted';
  if (outcome === 'sent back') return 'sent back';
  if (outcome === 'handed on') return 'third person';
  return late ? 'reopened' : 'concluded';
}
