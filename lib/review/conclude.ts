import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import {
  type Call,
  type ComponentState,
  componentBehind,
  type InspectionState,
  isOpenQuestion,
  type kinds,
  type RegisterState,
} from '../record/index.ts';
import { handedInFor } from './handedIn.ts';

export type Conclusion = z.infer<typeof kinds.reviewConcluded.body>;

/** The result of a part as it stands in a submitted verdict. */
export interface SubmittedPart {
  readonly slot: string;
  readonly component: string | null;
  readonly result: Call;
}

/** From mild to severe: evidence that is not enough weighs more than keep. */
const SEVERITY: readonly Call[] = ['keep', 'hold', 'repair', 'scrap'];

/** Whether `call` is milder than `result`. */
export function isMilder(call: Call, result: Call): boolean {
  return SEVERITY.indexOf(call) < SEVERITY.indexOf(result);
}

const RESULTS: readonly string[] = ['keep', 'repair', 'scrap', 'hold'];

/** The parts of the verdict that was submitted, as far as they can be read; empty before submission. */
export function submittedParts(state: Pick<InspectionState, 'submission'>): SubmittedPart[] {
  const parts = state.submission?.value.verdict.parts;
  if (!Array.isArray(parts)) return [];
  return parts.flatMap((part: unknown) => {
    if (typeof part !== 'object' || part === null) return [];
    const { slot, component, result } = part as Record<string, unknown>;
    if (typeof slot !== 'string' || typeof result !== 'string' || !RESULTS.includes(result)) return [];
    return [{ slot, component: typeof component === 'string' ? component : null, result: result as Call }];
  });
}

/** Whether the submitted verdict rests on invented limits somewhere. */
export function restsOnDemonstration({ submission }: Pick<InspectionState, 'submission'>): boolean {
  return submission?.value.verdict.demonstration === true;
}

/**
 * Slots in which another part sits than the one that was submitted for, or none: what the submission says of them holds
 * for no part that is there. `parts` are the components by slot at the moment that is asked about.
 */
export function replacedSince(
  state: Pick<InspectionState, 'submission'>,
  parts: ReadonlyMap<string, ComponentState>,
  register: Pick<RegisterState, 'components'>,
): string[] {
  return submittedParts(state)
    .filter(
      ({ slot, component }) =>
        component !== null && parts.get(slot)?.id !== componentBehind(register, component),
    )
    .map(({ slot }) => slot);
}

/** Whether a person may review this inspection at all: submitted, and not a word of it their own. */
export function mayReview(state: InspectionState, person: string): Result<true, Problem> {
  if (state.submission === null) {
    return fail(
      problem(
        'review-not-submitted',
        'submission',
        state.id,
        'This inspection has not been submitted',
        'Wait for the inspector.',
      ),
    );
  }
  if (state.inspectors.includes(person)) {
    return fail(
      problem(
        'review-own-work',
        'author',
        person,
        'Nobody reviews an inspection they took part in',
        'Another reviewer has to do it.',
      ),
    );
  }
  return ok(true);
}

type Refusal = Result<true, Problem>;

function refuse(code: string, field: string, value: unknown, message: string, wayOut: string): Refusal {
  return fail(problem(code, field, value, message, wayOut));
}

/** Conclusions so far, oldest first. */
function conclusionsOf(state: InspectionState) {
  return [...state.earlierConclusions, ...(state.conclusion === null ? [] : [state.conclusion])];
}

/**
 * Conclusions so far of which the reviewer had measured the submission and called a component otherwise than it was
 * submitted then.
 */
export function disagreementsOn(state: InspectionState, component: string): number {
  const submissions = new Map(state.submissions.map((one) => [one.entry, one]));
  return conclusionsOf(state).filter(({ value, author }) => {
    const submission = submissions.get(value.submission) ?? null;
    const call = handedInFor(state, author, value.submission)?.calls.get(component);
    const result = submittedParts({ submission }).find((part) => part.component === component)?.result;
    return call !== undefined && result !== undefined && call !== result;
  }).length;
}

function isPending(state: InspectionState): boolean {
  return state.conclusion === null || state.conclusion.value.outcome === 'handed on';
}

/** Whether a person is one of the two who disagreed twice, so that a third has to settle it. */
export function isBarred(state: InspectionState, person: string): boolean {
  return state.status === 'third person' && conclusionsOf(state).some(({ author }) => author === person);
}

function mayTakePart(state: InspectionState, person: string): Refusal {
  if (!isPending(state)) {
    return refuse(
      'review-concluded',
      'body.submission',
      state.submission?.entry,
      'Another reviewer has concluded this submission',
      'Load it again; nothing of yours is lost here.',
    );
  }
  if (isBarred(state, person)) {
    return refuse(
      'review-third-person',
      'author',
      person,
      'This was handed on: two people disagreed twice, and you are one of them',
      'A reviewer who has not concluded it before has to measure it.',
    );
  }
  return ok(true);
}

function mayBeSettled(state: InspectionState, outcome: Conclusion['outcome'], person: string): Refusal {
  const measured = state.seconds.get(person)?.handedIn ?? [];
  if (!measured.some(({ value }) => value.submission === state.submission?.entry)) {
    return refuse(
      'review-not-measured',
      'author',
      person,
      'You have not handed in a measurement of this submission',
      'Measure it, hand that in, and compare before you conclude.',
    );
  }
  if (state.late.length > 0) {
    return refuse(
      'review-late',
      'body.submission',
      state.late.length,
      'Evidence has come in that the submission does not rest on',
      'Send it back, so that the inspector submits all of it.',
    );
  }
  const question = state.questions.find(isOpenQuestion);
  if (outcome === 'agreed' && question !== undefined) {
    return refuse(
      'review-question-open',
      'question',
      question.asked.value.text,
      'A question to the inspector is not answered yet',
      'Wait for the answer, or send the inspection back.',
    );
  }
  return ok(true);
}

/** Each component at most once, and only those of the submission; none where it is sent back: a call would lead the inspector. */
function mayCallAtAll(state: InspectionState, { calls, outcome }: Conclusion): Refusal {
  const known = new Set(submittedParts(state).map(({ component }) => component));
  const wrong = calls.find(
    ({ component }, i) =>
      !known.has(component) || calls.findIndex((one) => one.component === component) !== i,
  );
  if (wrong !== undefined) {
    return refuse(
      'review-call-twice',
      'body.calls',
      wrong.component,
      'A part is called twice, or is none of this submission',
      'Send one call for each part of the submission.',
    );
  }
  if (outcome === 'sent back' && calls.length > 0) {
    return refuse(
      'review-calls-early',
      'body.calls',
      calls.length,
      'What is sent back carries no calls: they would lead the inspector',
      'Leave them out; your own calls stand in your measurement.',
    );
  }
  if (outcome === 'handed on' && state.status === 'third person') {
    return refuse(
      'review-third-decides',
      'body.outcome',
      outcome,
      'The third person decides: it is not handed on again',
      'Agree, overrule, or send it back.',
    );
  }
  return ok(true);
}

/** A call that is not the one handed in says why: nobody changes their mind in silence after seeing the other's. */
function mayChange(
  state: InspectionState,
  { component, call, reason }: Conclusion['calls'][number],
  slot: string,
  person: string,
): Refusal {
  const measured = handedInFor(state, person, state.submission?.entry ?? '')?.calls.get(component);
  if (measured === undefined || measured === call || reason !== '') return ok(true);
  return refuse(
    'review-changed-call',
    'reason',
    `${slot}: ${call}`,
    `You handed in ${measured} for the ${slot}; calling it ${call} now needs a reason`,
    'Say what changed your mind.',
  );
}

function mayCall(
  state: InspectionState,
  conclusion: Conclusion,
  part: SubmittedPart & { readonly component: string },
  person: string,
): Refusal {
  const { slot, component, result } = part;
  const call = conclusion.calls.find((one) => one.component === component);
  if (call === undefined) {
    return refuse(
      'review-call-missing',
      'body.calls',
      slot,
      `There is no call of your own for the ${slot}`,
      'Make a call for every part.',
    );
  }
  const changed = mayChange(state, call, slot, person);
  if (call.call === result || !changed.ok) return changed;
  if (isMilder(call.call, result)) {
    return refuse(
      'review-milder',
      'your call',
      `${slot}: ${call.call}`,
      `The submitted verdict on the ${slot} is ${result}; a review may only be as severe or more severe`,
      'Send it back, so that what is missing or wrong is put right in the evidence.',
    );
  }
  if (conclusion.outcome === 'agreed') {
    return refuse(
      'review-not-agreed',
      'your call',
      `${slot}: ${call.call}`,
      `You call the ${slot} ${call.call}, the submitted verdict is ${result}`,
      'Overrule with a reason, or send it back.',
    );
  }
  if (call.reason === '' || call.limit === '') {
    return refuse(
      'review-limit',
      call.reason === '' ? 'reason' : 'limit',
      '',
      `Calling the ${slot} ${call.call} instead of ${result} needs ${call.reason === '' ? 'a reason' : 'the limit it rests on'}`,
      'Say what you saw, and cite the row of a table, a manual or a regulation.',
    );
  }
  const third = state.status === 'third person';
  if (conclusion.outcome === 'overruled' && !third && disagreementsOn(state, component) > 0) {
    return refuse(
      'review-third-needed',
      'body.outcome',
      conclusion.outcome,
      `This is the second disagreement on the ${slot}`,
      'Hand it on: a third person measures, and their call stands.',
    );
  }
  return ok(true);
}

/**
 * Whether a conclusion fits the inspection: on the newest submission, not concluded yet, by somebody else who has
 * handed in a measurement of it, with a call for every identified part, none milder than the submitted result; agreed
 * only where every call is that result. A differing call needs a reason and a limit; the second disagreement on a
 * component is handed on to a third person. Sending back needs a reason alone. Fails with the first problem.
 */
export function mayConclude(state: InspectionState, conclusion: Conclusion, person: string): Refusal {
  const may = mayReview(state, person);
  if (!may.ok) return may;
  if (conclusion.submission !== state.submission?.entry) {
    return refuse(
      'review-stale',
      'body.submission',
      conclusion.submission,
      'The inspection has been submitted again since',
      'Load it again and look at what is new.',
    );
  }
  const takes = mayTakePart(state, person);
  if (!takes.ok) return takes;
  const fits = mayCallAtAll(state, conclusion);
  if (!fits.ok || conclusion.outcome === 'sent back') return fits;
  const settles = mayBeSettled(state, conclusion.outcome, person);
  if (!settles.ok) return settles;
  let differs = false;
  for (const part of submittedParts(state)) {
    const { component } = part;
    if (component === null) continue;
    const called = mayCall(state, conclusion, { ...part, component }, person);
    if (!called.ok) return called;
    differs ||= conclusion.calls.some((one) => one.component === component && one.call !== part.result);
  }
  if (differs || conclusion.outcome === 'agreed') return ok(true);
  return refuse(
    'review-nothing-differs',
    'body.outcome',
    conclusion.outcome,
    'All your calls are what was submitted: there is nothing to overrule or hand on',
    'Agree, or change the call that differs.',
  );
}

/** What holds for a part after review: the submitted result, or the reviewer's call where they overruled it. */
export interface Settled {
  readonly slot: string;
  readonly component: string | null;
  readonly submitted: Call;
  readonly settled: Call;
  readonly overruled: boolean;
}

/** Results of a concluded inspection, part by part; null while it is not concluded or was reopened by late evidence. */
export function settledParts(state: InspectionState): readonly Settled[] | null {
  const conclusion = state.conclusion?.value;
  if (conclusion === undefined || state.late.length > 0) return null;
  if (conclusion.outcome === 'sent back' || conclusion.outcome === 'handed on') return null;
  return submittedParts(state).map(({ slot, component, result }) => {
    const call = conclusion.calls.find((one) => one.component === component)?.call;
    // Never milder than submitted, whatever a record of earlier times may say.
    const counts = conclusion.outcome === 'overruled' && call !== undefined && !isMilder(call, result);
    const settled = counts ? call : result;
    return { slot, component, submitted: result, settled, overruled: settled !== result };
  });
}
