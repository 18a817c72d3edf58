import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { characteristicOf, readTyped } from '../../lib/readings/index.ts';
import {
  bodyOf,
  type Entry,
  foldStudy,
  isPlanned,
  kinds,
  type StoredEntry,
  type StudyPlan,
  type StudyReading,
  type StudyState,
  studyCell,
  studyHiddenFrom,
} from '../../lib/record/index.ts';
import {
  listMembers,
  type Membership,
  type ReadSubject,
  readSubject,
  type Store,
} from '../../lib/store/server/index.ts';
import { parseTypedLength } from '../../lib/units/index.ts';

/** The last digits in which two devices may turn inches into millimetres differently. */
const SAME_MM = 1e-9;

function refusal(code: string, field: string, value: unknown, message: string, wayOut: string) {
  return fail(problem(code, field, value, message, wayOut));
}

/**
 * Whether something may be written about a gauge study: a plan that can be carried out, once; readings by the people it
 * names, at places it knows, that say what was typed, while it is open; withdrawals of one's own readings; one closing.
 */
export function judgeStudy(entry: Entry, read: ReadSubject, store: Store): Result<void, Problem> {
  const earlier = read('study', entry.subject.id);
  const before = foldStudy(earlier);
  if (entry.kind === kinds.studyOpened.kind) return judgeOpening(entry, before, read, store);
  if (before.plan === null) {
    return refusal(
      'study-unknown',
      'subject.id',
      entry.subject.id,
      'There is no such study here',
      'Open the list of studies again.',
    );
  }
  if (before.closed !== null) {
    return refusal(
      'study-closed',
      'subject.id',
      before.plan.value.name,
      'The study is closed, so nothing is entered any more',
      'Ask the lead to open a new study.',
    );
  }
  if (entry.kind === kinds.studyReadingEntered.kind)
    return judgeReading(entry, before, before.plan.value, earlier);
  if (entry.kind === kinds.studyReadingWithdrawn.kind) return judgeWithdrawal(entry, before);
  return ok(undefined);
}

function judgeOpening(
  entry: Entry,
  before: StudyState,
  read: ReadSubject,
  store: Store,
): Result<void, Problem> {
  const plan = bodyOf(entry) as StudyPlan;
  if (before.plan !== null) {
    return refusal(
      'study-again',
      'subject.id',
      plan.name,
      'This study is open already',
      'Begin another one.',
    );
  }
  const characteristic = characteristicOf(plan.characteristic);
  if (characteristic.takenFrom !== 'gauge') {
    return refusal(
      'study-characteristic',
      'body.characteristic',
      plan.characteristic,
      'Only what is measured with a gauge or tape can be studied',
      'Choose another characteristic.',
    );
  }
  const { states } = characteristic;
  if (plan.state === null ? states.length > 0 : !states.includes(plan.state)) {
    return refusal(
      'study-state',
      'body.state',
      plan.state,
      `The state does not go with ${plan.characteristic}`,
      states.length > 0 ? `Choose one of: ${states.join(', ')}.` : 'Leave the state out.',
    );
  }
  if (read('instrument', plan.instrument).length === 0) {
    return refusal(
      'study-instrument',
      'body.instrument',
      plan.instrument,
      'This instrument is not known at the site',
      'Add the instrument first.',
    );
  }
  const members = new Set(listMembers(store, entry.site).map((one) => one.id));
  const stranger = plan.people.find((person) => !members.has(person));
  if (stranger !== undefined) {
    return refusal(
      'study-person',
      'body.people',
      stranger,
      'This person has no role at the site',
      'Choose people of the site.',
    );
  }
  return judgeTolerance(plan);
}

function judgeTolerance({ tolerance }: StudyPlan): Result<void, Problem> {
  if (tolerance === null) return ok(undefined);
  const read = parseTypedLength(tolerance.typed, tolerance.defaultUnit, 'body.tolerance.typed');
  if (!read.ok) return read;
  if (Math.abs(read.value.valueMm - tolerance.valueMm) <= SAME_MM) return ok(undefined);
  return refusal(
    'study-tolerance',
    'body.tolerance.valueMm',
    tolerance.valueMm,
    `The typed text "${tolerance.typed}" says ${read.value.valueMm} mm`,
    'Enter the tolerance again.',
  );
}

function judgeReading(
  entry: Entry,
  before: StudyState,
  plan: StudyPlan,
  earlier: readonly Entry[],
): Result<void, Problem> {
  const reading = bodyOf(entry) as StudyReading;
  if (!plan.people.includes(entry.author)) {
    return refusal(
      'study-person',
      'author',
      entry.author,
      'Only the people named in the study enter readings',
      'Ask the lead who is meant to measure.',
    );
  }
  if (!isPlanned(plan, entry.author, reading)) {
    return refusal(
      'study-place',
      'body.part',
      `${reading.part}, trial ${reading.trial}`,
      'The study has no such part and trial',
      'Open the study again and enter the reading it asks for.',
    );
  }
  const sameId = (one: Entry) => (one.body as { reading?: unknown }).reading === reading.reading;
  if (earlier.some((one) => one.kind === entry.kind && sameId(one))) {
    return refusal(
      'study-reading-again',
      'body.reading',
      reading.reading,
      'A reading with this id is in the record already',
      'Enter it as a new reading.',
    );
  }
  if (before.readings.has(studyCell(entry.author, reading.part, reading.trial))) {
    return refusal(
      'study-reading-again',
      'body.trial',
      reading.trial,
      'You have read this part in this trial already',
      'Withdraw that reading first if it was wrong.',
    );
  }
  return judgeValue(plan, reading);
}

function judgeValue(plan: StudyPlan, reading: StudyReading): Result<void, Problem> {
  const read = readTyped(plan.characteristic, reading.typed, reading.defaultUnit, reading.overlap);
  if (!read.ok) return fail({ ...read.error, field: `body.${read.error.field}` });
  if (Math.abs(read.value.valueMm - reading.valueMm) > SAME_MM) {
    return refusal(
      'study-reading-value',
      'body.valueMm',
      reading.valueMm,
      `The typed text "${reading.typed}" says ${read.value.valueMm} mm`,
      'Enter the reading again.',
    );
  }
  if (read.value.question === null || reading.confirmed) return ok(undefined);
  return refusal(
    'study-reading-unconfirmed',
    'body.confirmed',
    false,
    read.value.question,
    'Confirm the value or enter it again.',
  );
}

function judgeWithdrawal(entry: Entry, before: StudyState): Result<void, Problem> {
  const { reading } = bodyOf(entry) as { reading: string };
  const own = [...before.readings.values()].some(
    (one) => one.author === entry.author && one.value.reading === reading,
  );
  if (own) return ok(undefined);
  return refusal(
    'study-reading-unknown',
    'body.reading',
    reading,
    'No reading of yours in this study has this id',
    'Open the study again.',
  );
}

/**
 * Entries as a person may be told them: of open studies without what others have read (`studyHiddenFrom`). A study is
 * looked up once; entries of other subjects pass.
 */
export function withoutHidden(
  store: Store,
  member: Membership,
  person: string,
  entries: readonly StoredEntry[],
): StoredEntry[] {
  const states = new Map<string, StudyState>();
  return entries.filter((entry) => {
    if (entry.subject.type !== 'study') return true;
    const { id } = entry.subject;
    const state = states.get(id) ?? foldStudy(readSubject(store, { site: entry.site, type: 'study', id }));
    states.set(id, state);
    return !studyHiddenFrom({ id: person, lead: member.roles.includes('lead') }, state, entry);
  });
}
