import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import type { Call, InspectionState, kinds } from '../record/index.ts';

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
export function submittedParts(state: InspectionState): SubmittedPart[] {
  const parts = state.submission?.value.verdict.parts;
  if (!Array.isArray(parts)) return [];
  return parts.flatMap((part: unknown) => {
    if (typeof part !== 'object' || part === null) return [];
    const { slot, component, result } = part as Record<string, unknown>;
    if (typeof slot !== 'string' || typeof result !== 'string' || !RESULTS.includes(result)) return [];
    return [{ slot, component: typeof component === 'string' ? component : null, result: result as Call }];
  });
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

/**
 * Whether a conclusion fits the inspection: on the newest submission, not concluded yet, by somebody else, with a call
 * for every identified part, none milder than the submitted result; agreed only where every call is that result. Fails with the first problem.
 */
export function mayConclude(
  state: InspectionState,
  conclusion: Conclusion,
  person: string,
): Result<true, Problem> {
  const may = mayReview(state, person);
  if (!may.ok) return may;
  if (conclusion.submission !== state.submission?.entry) {
    return fail(
      problem(
        'review-stale',
        'body.submission',
        conclusion.submission,
        'The inspection has been submitted again since',
        'Load it again and look at what is new.',
      ),
    );
  }
  if (state.conclusion !== null) {
    return fail(
      problem(
        'review-concluded',
        'body.submission',
        conclusion.submission,
        'Another reviewer has concluded this submission',
        'Load it again; nothing of yours is lost here.',
      ),
    );
  }
  if (conclusion.outcome === 'sent back') return ok(true);
  if (state.late.length > 0) {
    return fail(
      problem(
        'review-late',
        'body.submission',
        state.late.length,
        'Evidence has come in that the submission does not rest on',
        'Send it back, so that the inspector submits all of it.',
      ),
    );
  }
  const calls = new Map(conclusion.calls.map((one) => [one.component, one.call]));
  for (const part of submittedParts(state)) {
    if (part.component === null) continue;
    const call = calls.get(part.component);
    if (call === undefined) {
      return fail(
        problem(
          'review-call-missing',
          'body.calls',
          part.slot,
          `There is no call of your own for the ${part.slot}`,
          'Make a call for every part.',
        ),
      );
    }
    if (isMilder(call, part.result)) {
      return fail(
        problem(
          'review-milder',
          'your call',
          `${part.slot}: ${call}`,
          `The submitted verdict on the ${part.slot} is ${part.result}; a review may only be as severe or more severe`,
          'Send it back, so that what is missing or wrong is put right in the evidence.',
        ),
      );
    }
    if (conclusion.outcome === 'agreed' && call !== part.result) {
      return fail(
        problem(
          'review-not-agreed',
          'your call',
          `${part.slot}: ${call}`,
          `You call the ${part.slot} ${call}, the submitted verdict is ${part.result}`,
          'Overrule with a reason, or send it back.',
        ),
      );
    }
  }
  return ok(true);
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
  if (conclusion === undefined || conclusion.outcome === 'sent back' || state.late.length > 0) return null;
  const calls = new Map(conclusion.calls.map((one) => [one.component, one.call]));
  return submittedParts(state).map(({ slot, component, result }) => {
    const call = component === null ? undefined : calls.get(component);
    const settled = conclusion.outcome === 'overruled' && call !== undefined ? call : result;
    return { slot, component, submitted: result, settled, overruled: settled !== result };
  });
}
