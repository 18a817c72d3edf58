import type { z } from 'zod';
import { canonicalJson, fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import {
  bodyOf,
  type Entry,
  foldInspection,
  foldRegister,
  isReadable,
  type kinds,
} from '../../lib/record/index.ts';
import { type Conclusion, mayConclude } from '../../lib/review/index.ts';
import { Evidence, evaluate, gatherEvidence } from '../../lib/rules/index.ts';
import { linkedSubjects, type ReadSubject, type Store } from '../../lib/store/server/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';

/** How long before its signature a verdict may have been worked out. */
const DECIDED_BEFORE_MS_MAX = 60_000;

type Submission = z.infer<typeof kinds.inspectionSubmitted.body>;

function refusal(code: string, field: string, value: unknown, message: string, wayOut: string) {
  return fail(problem(code, field, value, message, wayOut));
}

/**
 * Whether a submitted verdict is what the record gives: every entry it rests on is here, and evaluating them again,
 * under the site's tables, gives the same bytes. A device cannot claim a verdict that does not follow.
 */
export function judgeSubmission(entry: Entry, readSubject: ReadSubject, store: Store): Result<void, Problem> {
  if (!isReadable(entry)) return ok(undefined);
  const { covers, verdict } = bodyOf(entry) as Submission;
  const known = new Map(readSubject('inspection', entry.subject.id).map((one) => [one.id, one]));
  const covered = covers.map((id) => known.get(id));
  const absent = covers.filter((id) => !known.has(id));
  if (absent.length > 0) {
    return refusal(
      'submission-incomplete',
      'body.covers',
      absent.length,
      'Entries that the submission rests on have not arrived',
      'Send everything that waits, then submit again.',
    );
  }
  const inputs = Evidence.safeParse(verdict.inputs);
  if (!inputs.success) {
    return refusal(
      'submission-inputs',
      'body.verdict.inputs',
      '',
      'The verdict does not carry the evidence it was made from',
      'Submit again with a current version.',
    );
  }
  const aheadMs = Date.parse(entry.at) - Date.parse(inputs.data.decidedAt);
  if (aheadMs < 0 || aheadMs > DECIDED_BEFORE_MS_MAX) {
    return refusal(
      'submission-moment',
      'body.verdict.inputs.decidedAt',
      inputs.data.decidedAt,
      'The verdict was not made at the moment of the submission',
      'Look at the verdict again and submit again.',
    );
  }
  const state = foldInspection(covered.filter((one) => one !== undefined));
  if (state.wheel === null) {
    return refusal(
      'submission-wheel',
      'body.covers',
      entry.subject.id,
      'The inspection names no wheel',
      'Begin the inspection from the wheel’s page.',
    );
  }
  const register = foldRegister([
    ...readSubject('site', entry.site),
    ...readSubject('wheel', state.wheel),
    ...linkedSubjects(store, entry.site, state.wheel, 'component').flatMap((id) =>
      readSubject('component', id),
    ),
    ...instrumentsOf(state).flatMap((id) => readSubject('instrument', id)),
  ]);
  const wheel = register.wheels.get(state.wheel);
  if (wheel === undefined) {
    return refusal(
      'submission-wheel',
      'wheel',
      state.wheel,
      'The wheel is not described at this site',
      'The lead adds the wheel; then submit again.',
    );
  }
  const { tables } = tablesNamed(register.sites.get(entry.site)?.tables ?? []);
  const own = evaluate(gatherEvidence(state, wheel, register, inputs.data.decidedAt), tables);
  if (canonicalJson(own) === canonicalJson(verdict)) return ok(undefined);
  return refusal(
    'submission-verdict',
    'body.verdict',
    String(verdict.engine),
    'The verdict does not follow from the entries and tables on the server',
    'Fetch what is new (open the wheel with a connection), look at the verdict again, and submit again.',
  );
}

function instrumentsOf(state: ReturnType<typeof foldInspection>): string[] {
  const named = [...state.readings.values()].map(({ value }) => value.instrument).filter((id) => id !== null);
  return [...new Set(named)];
}

/** Whether a conclusion may stand: see `mayConclude`. */
export function judgeConclusion(entry: Entry, readSubject: ReadSubject): Result<void, Problem> {
  if (!isReadable(entry)) return ok(undefined);
  const before = readSubject('inspection', entry.subject.id);
  if (before.length === 0) {
    return refusal(
      'review-unknown',
      'subject.id',
      entry.subject.id,
      'There is no such inspection here',
      'Open the queue again.',
    );
  }
  const may = mayConclude(foldInspection(before), bodyOf(entry) as Conclusion, entry.author);
  return may.ok ? ok(undefined) : may;
}
