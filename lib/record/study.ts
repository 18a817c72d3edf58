import { assert } from '../base/index.ts';
import type { Entry } from './entry.ts';
import type { StudyPlan, StudyReading } from './kinds/study.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kindNamed, kinds } from './registry.ts';
import type { Written } from './written.ts';

/** A gauge study as its entries tell it. */
export interface StudyState {
  readonly id: string;
  readonly site: string;
  /** Null while its opening has not arrived; then no reading counts. */
  readonly plan: Written<StudyPlan> | null;
  /** Readings that count, by `studyCell` of person, part and trial. */
  readonly readings: ReadonlyMap<string, Written<StudyReading>>;
  /** Readings that do not count: another was entered there before, or the plan does not know person, part or trial. */
  readonly surplus: readonly Written<StudyReading>[];
  readonly closed: Written<{ readonly reason: string }> | null;
  /** Entries kept though this version cannot read them. */
  readonly unreadable: readonly string[];
}

/** Key of a place in the design of a study. */
export function studyCell(person: string, part: string, trial: number): string {
  return `${person}|${part}|${trial}`;
}

/**
 * Folds the entries of one gauge study. Order and repetition of the entries do not matter. The first opening and the
 * first closing count; of several readings at one place the first that its author has not withdrawn. Throws when the
 * entries are about another subject or about several: a bug of the caller.
 */
export function foldStudy(entries: readonly Entry[]): StudyState {
  let [id, site] = ['', ''];
  let plan: Written<StudyPlan> | null = null;
  let closed: Written<{ reason: string }> | null = null;
  const entered: Written<StudyReading>[] = [];
  const withdrawn = new Set<string>();
  const unreadable: string[] = [];
  for (const entry of mergeEntries(entries)) {
    assert(
      entry.subject.type === 'study' && (id === '' || id === entry.subject.id),
      `entry ${entry.id} belongs to this study`,
    );
    id = entry.subject.id;
    site = entry.site;
    if (!isReadable(entry)) {
      unreadable.push(entry.id);
      continue;
    }
    const by = { entry: entry.id, at: entry.at, author: entry.author };
    const body = bodyOf(entry);
    if (entry.kind === kinds.studyOpened.kind) plan ??= { ...by, value: body as StudyPlan };
    else if (entry.kind === kinds.studyClosed.kind) closed ??= { ...by, value: body as { reason: string } };
    else if (entry.kind === kinds.studyReadingEntered.kind)
      entered.push({ ...by, value: body as StudyReading });
    else if (entry.kind === kinds.studyReadingWithdrawn.kind)
      withdrawn.add(`${entry.author}|${(body as { reading: string }).reading}`);
  }
  const standing = entered.filter((one) => !withdrawn.has(`${one.author}|${one.value.reading}`));
  return { id, site, plan, closed, unreadable, ...placed(plan?.value ?? null, standing) };
}

function placed(
  plan: StudyPlan | null,
  standing: readonly Written<StudyReading>[],
): Pick<StudyState, 'readings' | 'surplus'> {
  const readings = new Map<string, Written<StudyReading>>();
  const surplus: Written<StudyReading>[] = [];
  for (const one of standing) {
    const cell = studyCell(one.author, one.value.part, one.value.trial);
    const counts = plan !== null && isPlanned(plan, one.author, one.value) && !readings.has(cell);
    if (counts) readings.set(cell, one);
    else surplus.push(one);
  }
  return { readings, surplus };
}

/** Whether the plan of a study asks this person for this part in this trial. */
export function isPlanned(
  plan: StudyPlan,
  person: string,
  { part, trial }: Pick<StudyReading, 'part' | 'trial'>,
): boolean {
  return plan.people.includes(person) && plan.parts.some((one) => one.part === part) && trial <= plan.trials;
}

/**
 * Whether an entry of a study is kept from a person: while the study is open, what others read is told to nobody but
 * the leads who do not measure in it themselves. Kinds that are not known here are kept back like readings.
 */
export function studyHiddenFrom(
  person: { readonly id: string; readonly lead: boolean },
  state: StudyState,
  entry: Pick<Entry, 'author' | 'kind'>,
): boolean {
  if (state.closed !== null || entry.author === person.id || kindNamed(entry.kind)?.role === 'study')
    return false;
  return !person.lead || (state.plan?.value.people.includes(person.id) ?? true);
}
