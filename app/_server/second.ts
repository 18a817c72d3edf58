import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { checkReading, type Reading } from '../../lib/readings/index.ts';
import {
  bodyOf,
  type Entry,
  foldInspection,
  type InspectionState,
  isOpenQuestion,
  kinds,
} from '../../lib/record/index.ts';
import { mayHandIn, mayMeasure, secondState, toMeasure } from '../../lib/review/index.ts';
import type { ReadSubject, Store } from '../../lib/store/server/index.ts';
import { judgeLater, judgeOwnWork } from './judge.ts';

type BodyOf<K extends { readonly body: z.ZodType }> = z.infer<K['body']>;

const READINGS: readonly string[] = [kinds.readingEntered.kind, kinds.readingCorrected.kind];

/**
 * Whether something of a second measurement may be written: by somebody who took no part, on a submission they have not
 * handed in for; handed in whole; looked at early only once and before measuring.
 */
export function judgeSecond(entry: Entry, readSubject: ReadSubject, store: Store): Result<void, Problem> {
  const before = readSubject('inspection', entry.subject.id);
  const state = foldInspection(before);
  if (entry.kind === kinds.figuresLookedAt.kind) return judgeEarlyLook(entry, state);
  const may = mayMeasure(state, entry.author);
  if (!may.ok) return may;
  const own = judgeOwnWork(state, entry, readSubject, store);
  if (!own.ok) return own;
  if (entry.kind !== kinds.secondHandedIn.kind)
    return judgeMeasured(bodyOf(entry) as BodyOf<typeof kinds.secondMeasured>);
  const inTime = judgeLater(entry, state);
  if (!inTime.ok) return inTime;
  const handedIn = bodyOf(entry) as BodyOf<typeof kinds.secondHandedIn>;
  const whole = mayHandIn(toMeasure(state), secondState(before, entry.author), handedIn);
  return whole.ok ? ok(undefined) : whole;
}

function judgeMeasured({ of, body }: BodyOf<typeof kinds.secondMeasured>): Result<void, Problem> {
  if (!READINGS.includes(of)) return ok(undefined);
  const checked = checkReading(body as Reading);
  return checked.ok ? ok(undefined) : fail({ ...checked.error, field: `body.body.${checked.error.field}` });
}

function judgeEarlyLook(entry: Entry, state: InspectionState): Result<void, Problem> {
  const second = state.seconds.get(entry.author);
  const seen =
    state.inspectors.includes(entry.author) ||
    state.status === 'concluded' ||
    state.status === 'reopened' ||
    (second !== undefined && (second.handedIn.length > 0 || second.lookedEarly !== null));
  if (state.opened !== null && !seen) return ok(undefined);
  return fail(
    problem(
      state.opened === null ? 'second-unknown' : 'second-seen',
      state.opened === null ? 'subject.id' : 'author',
      state.opened === null ? entry.subject.id : entry.author,
      state.opened === null ? 'There is no such inspection here' : 'Nothing is kept from you here',
      'Open the queue again.',
    ),
  );
}

/** Whether a question or its answer may be written: about an inspection that waits for review, each answered once. */
export function judgeQuestion(entry: Entry, readSubject: ReadSubject): Result<void, Problem> {
  const state = foldInspection(readSubject('inspection', entry.subject.id));
  if (entry.kind === kinds.questionAsked.kind) return judgeAsking(entry, state);
  const { question } = bodyOf(entry) as BodyOf<typeof kinds.questionAnswered>;
  const asked = state.questions.find((one) => one.asked.value.question === question);
  if (asked !== undefined && (isOpenQuestion(asked) || asked.answer === null)) return ok(undefined);
  return fail(
    problem(
      asked === undefined ? 'question-unknown' : 'question-answered',
      'body.question',
      question,
      asked === undefined
        ? 'There is no such question on this inspection'
        : 'This question is answered already',
      'Open the inspection with a connection and look at its questions.',
    ),
  );
}

function judgeAsking(entry: Entry, state: InspectionState): Result<void, Problem> {
  const { question } = bodyOf(entry) as BodyOf<typeof kinds.questionAsked>;
  const taken = state.questions.some((one) => one.asked.value.question === question);
  const settled = state.status === 'concluded' || state.status === 'reopened';
  if (state.submission !== null && !settled && !taken && !state.inspectors.includes(entry.author))
    return ok(undefined);
  return fail(
    problem(
      taken ? 'question-again' : 'question-not-now',
      taken ? 'body.question' : 'author',
      taken ? question : entry.author,
      taken
        ? 'This question is in the record already'
        : state.submission === null
          ? 'The inspection has not been submitted: there is nothing to ask yet'
          : settled
            ? 'The review is concluded'
            : 'Nobody asks questions on their own inspection',
      taken ? 'Ask a new one.' : 'Wait for the submission, or ask another reviewer.',
    ),
  );
}
