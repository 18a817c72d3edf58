import type { z } from 'zod';
import { canonicalJson, fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import {
  bodyOf,
  type Entry,
  foldInspection,
  foldRegister,
  type InspectionState,
  kinds,
  type RegisterState,
} from '../../lib/record/index.ts';
import { type Conclusion, mayConclude } from '../../lib/review/index.ts';
import { decide, Evidence } from '../../lib/rules/index.ts';
import {
  componentEntriesOfKind,
  findPhoto,
  heldByOther,
  holderOf,
  linkedSubjects,
  type ReadSubject,
  type Store,
  wroteSince,
} from '../../lib/store/server/index.ts';
import { type TablesOnFile, tableHash, tablesInForce } from '../../lib/tolerances/index.ts';
import { tablesOnFile } from './tables.ts';

/** How long before its signature a verdict may have been worked out. */
const DECIDED_BEFORE_MS_MAX = 60_000;
/** How late a verdict may arrive that was decided under limits which count no more. */
const LATE_MS_MAX = 3 * 24 * 3600 * 1000;
/** How far the clocks of two devices that work on one inspection may be apart. */
const CLOCKS_APART_MS_MAX = 5 * 60_000;

type Submission = z.infer<typeof kinds.inspectionSubmitted.body>;

function refusal(code: string, field: string, value: unknown, message: string, wayOut: string) {
  return fail(problem(code, field, value, message, wayOut));
}

/** Whether the entries a submission rests on are here, and it leaves nothing out that is. */
function judgeCovers(covers: readonly string[], known: readonly Entry[]): Result<void, Problem> {
  const here = new Set(known.map((one) => one.id));
  const absent = covers.filter((id) => !here.has(id));
  if (absent.length > 0) {
    return refusal(
      'submission-incomplete',
      'body.covers',
      absent.length,
      'Entries that the submission rests on have not arrived',
      'Send everything that waits, then submit again.',
    );
  }
  const covered = new Set(covers);
  const leftOut = foldInspection(known).coverable.filter((id) => !covered.has(id));
  if (leftOut.length === 0) return ok(undefined);
  return refusal(
    'submission-leaves-out',
    'body.covers',
    leftOut.length,
    'The record holds evidence that the submission does not rest on',
    'Open the inspection with a connection so that all of it is fetched, look at the verdict, and submit again.',
  );
}

/** Whether the verdict was made at the moment of its signature, and not before the evidence it rests on. */
function judgeMoment(entry: Entry, decidedAt: string, known: readonly Entry[]): Result<void, Problem> {
  const aheadMs = Date.parse(entry.at) - Date.parse(decidedAt);
  const evidence = new Set(foldInspection(known).coverable);
  const newest =
    known
      .filter((one) => evidence.has(one.id))
      .map((one) => one.at)
      .sort()
      .at(-1) ?? entry.at;
  const inTime = aheadMs >= 0 && aheadMs <= DECIDED_BEFORE_MS_MAX;
  const afterEvidence = Date.parse(newest) - Date.parse(decidedAt) <= CLOCKS_APART_MS_MAX;
  if (inTime && afterEvidence) return ok(undefined);
  return refusal(
    'submission-moment',
    'body.verdict.inputs.decidedAt',
    decidedAt,
    inTime
      ? 'The evidence is dated after the verdict'
      : 'The verdict was not made at the moment of the submission',
    'Set the clock of the device, look at the verdict again, and submit again.',
  );
}

/**
 * Whether a submitted verdict is what the record gives: everything it rests on is here, nothing is left out, and
 * evaluating it again under the site's tables gives the same bytes. A device cannot claim a verdict that does not follow.
 */
export function judgeSubmission(
  entry: Entry,
  readSubject: ReadSubject,
  store: Store,
  now: string,
): Result<void, Problem> {
  const { covers, verdict } = bodyOf(entry) as Submission;
  const known = readSubject('inspection', entry.subject.id);
  const complete = judgeCovers(covers, known);
  if (!complete.ok) return complete;
  const later = judgeLater(entry, foldInspection(known));
  if (!later.ok) return later;
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
  const moment = judgeMoment(entry, inputs.data.decidedAt, known);
  if (!moment.ok) return moment;
  const state = foldInspection(known);
  const register =
    state.wheel === null ? null : registerOf(entry.site, state.wheel, state, readSubject, store);
  const wheel = state.wheel === null ? undefined : register?.wheels.get(state.wheel);
  if (register === null || wheel === undefined) {
    return refusal(
      'submission-wheel',
      'wheel',
      state.wheel,
      'The wheel of this inspection is not described at this site',
      'The lead adds the wheel; then submit again.',
    );
  }
  const onFile = tablesOnFile(entry.site, readSubject, store);
  const { verdict: again } = decide(state, wheel, register, onFile, inputs.data.decidedAt);
  if (canonicalJson(again) === canonicalJson(verdict)) {
    return judgeTablesStill(register.sites.get(entry.site)?.tables ?? [], onFile, inputs.data.decidedAt, now);
  }
  return refusal(
    'submission-verdict',
    'body.verdict',
    String(verdict.engine),
    'The verdict does not follow from the entries and tables on the server',
    'Fetch what is new (open the wheel with a connection), look at the verdict again, and submit again.',
  );
}

/** A verdict that arrives late stands only under the limits that still count: a clock set back must not bring old ones back. */
function judgeTablesStill(
  names: readonly string[],
  onFile: TablesOnFile,
  decidedAt: string,
  now: string,
): Result<void, Problem> {
  if (Date.parse(now) - Date.parse(decidedAt) <= LATE_MS_MAX) return ok(undefined);
  const hashesAt = (at: string) => tablesInForce(names, onFile.tables, at).tables.map(tableHash).join();
  if (hashesAt(decidedAt) === hashesAt(now)) return ok(undefined);
  return refusal(
    'submission-tables',
    'body.verdict.inputs.decidedAt',
    decidedAt,
    'The limits in force have changed since this verdict',
    'Look at the verdict under the limits that count now, and submit again.',
  );
}

/** The registers as far as one inspection needs them. */
function registerOf(
  site: string,
  wheel: string,
  state: InspectionState,
  readSubject: ReadSubject,
  store: Store,
): RegisterState {
  const named = [...state.readings.values()].map(({ value }) => value.instrument).filter((id) => id !== null);
  // A part in the wheel may be read together with records that were never in it.
  const merges = componentEntriesOfKind(store, site, kinds.componentMerged.kind);
  const merged = merges.flatMap(({ subject, body }) => [subject.id, String(body.into)]);
  const components = new Set([...linkedSubjects(store, site, wheel, 'component'), ...merged]);
  return foldRegister([
    ...readSubject('site', site),
    ...readSubject('wheel', wheel),
    ...[...components].flatMap((id) => readSubject('component', id)),
    ...[...new Set(named)].flatMap((id) => readSubject('instrument', id)),
  ]);
}

/**
 * Whether the author of an entry had a hand in what a submitted verdict rests on beside the inspection: wrote about its
 * parts, its wheel or its instruments since the inspection was begun, by the clock of whoever wrote or by the order of
 * arrival, or recorded a test that counts. Fails when they did.
 */
export function judgeOwnWork(
  state: InspectionState,
  { author: person, site }: Entry,
  readSubject: ReadSubject,
  store: Store,
): Result<void, Problem> {
  const inputs = Evidence.parse(state.submission?.value.verdict.inputs);
  const tests = new Set(inputs.parts.flatMap((part) => part.tests.map((test) => test.id)));
  const components = inputs.parts.map((part) => part.component).filter((id) => id !== null);
  const register = foldRegister(components.flatMap((id) => readSubject('component', id)));
  const own = [...register.components.values()].some(({ writers }) =>
    writers.some(
      (one) => one.author === person && (tests.has(one.entry) || one.at >= (state.opened?.at ?? '')),
    ),
  );
  const instruments = [...state.readings.values()]
    .map(({ value }) => value.instrument)
    .filter((id) => id !== null);
  const subjects = [...components, ...instruments, ...(state.wheel === null ? [] : [state.wheel])];
  if (!own && !wroteSince(store, { site, person, subjects, since: state.opened?.entry ?? '' }))
    return ok(undefined);
  return refusal(
    'review-own-work',
    'author',
    person,
    'You wrote about a part, the wheel or an instrument that this verdict rests on while it was inspected',
    'Another reviewer has to do it.',
  );
}

/** Whether a signature is later than the signatures that it follows: their order decides which of them counts. */
export function judgeLater(entry: Entry, state: InspectionState): Result<void, Problem> {
  const before = [
    ...state.submissions,
    ...state.earlierConclusions,
    ...(state.conclusion === null ? [] : [state.conclusion]),
    ...(state.seconds.get(entry.author)?.handedIn ?? []),
  ];
  const newest = before
    .map(({ at }) => at)
    .sort()
    .at(-1);
  if (newest === undefined || entry.at > newest) return ok(undefined);
  return refusal(
    'signature-order',
    'at',
    entry.at,
    `This is dated before the signature of ${newest} that it follows`,
    'Set the clock of the device and sign again.',
  );
}

/**
 * Whether a conclusion may stand: see `mayConclude`; besides, the reviewer wrote nothing that the verdict rests on (no
 * test, no description or fitment made during the inspection), and every photo of it is here to be looked at.
 */
export function judgeConclusion(
  entry: Entry,
  readSubject: ReadSubject,
  store: Store,
  sender: { readonly passwordEntered: boolean; readonly now: string },
): Result<void, Problem> {
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
  const state = foldInspection(before);
  const conclusion = bodyOf(entry) as Conclusion;
  if (conclusion.signed !== 'password entered again' || !sender.passwordEntered) {
    return refusal(
      'review-password',
      'body.signed',
      conclusion.signed,
      'A review is signed with the password, entered again for it',
      'Sign it on the review page, or send it to /api/v1/signatures.',
    );
  }
  const may = mayConclude(state, conclusion, entry.author);
  if (!may.ok) return may;
  const later = judgeLater(entry, state);
  if (!later.ok) return later;
  const held = holderOf(store, entry.site, entry.subject.id, sender.now);
  if (held !== null && held.person !== entry.author) return fail(heldByOther(held));
  if (conclusion.outcome === 'sent back') return ok(undefined);
  const own = judgeOwnWork(state, entry, readSubject, store);
  if (!own.ok) return own;
  const inputs = Evidence.parse(state.submission?.value.verdict.inputs);
  const away = inputs.parts
    .flatMap((part) => part.photos)
    .filter((photo) => findPhoto(store, entry.site, photo.id) === undefined);
  if (away.length === 0) return ok(undefined);
  return refusal(
    'review-photos',
    'body.submission',
    away.length,
    'Photos of this inspection have not arrived, so nobody can have looked at them',
    'Wait until the inspector’s device has sent them, or send the inspection back.',
  );
}
