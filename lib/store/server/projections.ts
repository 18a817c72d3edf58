import type { Entry, SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import { type HistoryRow, projectHistory } from './history.ts';
import { type PairRow, projectPairs } from './pairs.ts';
import { readEntries, type Subject } from './rows.ts';
import type { InspectionTableRow } from './tables.ts';

/** One line of the review queue and of a wheel's list, derived from an inspection's entries. */
export interface InspectionSummary {
  readonly wheel: string;
  readonly tag: string;
  readonly status: string;
  readonly inspector: string;
  readonly inspectorName: string;
  /** Null until submitted. */
  readonly submittedAt: string | null;
  /** Since when it waits in its status; null until submitted and once reviewed. */
  readonly waitingSince: string | null;
  readonly provisional: boolean;
  /** Whole number, larger is more dangerous; left out for people who may not know the results yet. */
  readonly rank?: number;
  /** The worst result of its parts; left out likewise, null until submitted. */
  readonly result?: string | null;
  /** From 1, small, to 4, very large: the energy in the air behind the rim; null until submitted. */
  readonly energyClass: number | null;
  /** Person the review was given to. */
  readonly assignedTo: string | null;
  readonly reviewer: string | null;
  readonly concludedAt: string | null;
  readonly body: Readonly<Record<string, unknown>>;
}

/** An inspection's line as it is read back. */
export interface InspectionLine extends InspectionSummary {
  readonly id: string;
  readonly site: string;
  readonly entryCount: number;
}

/** Members of a line's body that say nothing of what was found; any other is taken to do so. */
const TELLING_NOTHING = [
  'reason',
  'energy',
  'photos',
  'readings',
  'late',
  'inspectors',
  'demonstration',
] as const;

/** A line without what is derived from the inspector's values: its place, its results and their reasons. */
export function withoutResults<L extends InspectionLine>(line: L): Omit<L, 'rank' | 'result'> {
  const { rank: _, result: __, ...rest } = line;
  const kept = TELLING_NOTHING.filter((key) => key in line.body).map((key) => [key, line.body[key]] as const);
  return { ...rest, entryCount: 0, body: Object.fromEntries(kept) };
}

/** What a subject's entries say for the lists: its line if it is an inspection, and the wheels it belongs to. */
export interface Projection {
  readonly inspection?: InspectionSummary;
  readonly wheels: readonly string[];
  /** Pairs of two people's readings and calls of an inspection; none when left out. */
  readonly pairs?: readonly PairRow[];
  /** What an inspection says of wear and of where things happen; nothing when left out. */
  readonly history?: readonly HistoryRow[];
}

/** Pure function from a subject's entries, in order of arrival, to its projection. */
export type Projector = (subject: Subject, entries: readonly Entry[]) => Projection;

/** Replaces the projection of one subject. */
export function projectSubject(
  store: Store,
  subject: Subject,
  entries: readonly Entry[],
  project: Projector,
): void {
  const { inspection, wheels, pairs, history } = project(subject, entries);
  store.run(
    store.build
      .deleteFrom('subject_link')
      .where('site', '=', subject.site)
      .where('subject_type', '=', subject.type)
      .where('subject_id', '=', subject.id),
  );
  for (const wheel of new Set(wheels)) {
    store.run(
      store.build
        .insertInto('subject_link')
        .values({ site: subject.site, subject_type: subject.type, subject_id: subject.id, wheel }),
    );
  }
  if (subject.type !== 'inspection') return;
  projectPairs(store, subject, pairs ?? []);
  projectHistory(store, subject, history ?? []);
  store.run(
    store.build
      .deleteFrom('projection_inspection')
      .where('site', '=', subject.site)
      .where('id', '=', subject.id),
  );
  if (inspection === undefined) return;
  store.run(
    store.build.insertInto('projection_inspection').values(rowOf(subject, inspection, entries.length)),
  );
}

function rowOf(subject: Subject, summary: InspectionSummary, entryCount: number): InspectionTableRow {
  return {
    id: subject.id,
    site: subject.site,
    wheel: summary.wheel,
    tag: summary.tag,
    status: summary.status,
    inspector: summary.inspector,
    inspector_name: summary.inspectorName,
    submitted_at: summary.submittedAt ?? '',
    waiting_since: summary.waitingSince ?? '',
    provisional: summary.provisional ? 1 : 0,
    rank: summary.rank ?? 0,
    result: summary.result ?? null,
    energy_class: summary.energyClass,
    assigned_to: summary.assignedTo,
    reviewer: summary.reviewer,
    concluded_at: summary.concludedAt,
    entry_count: entryCount,
    body: JSON.stringify(summary.body),
  };
}

/** The line of an inspection from its row. */
export function lineOf(row: InspectionTableRow): InspectionLine {
  return {
    id: row.id,
    site: row.site,
    wheel: row.wheel,
    tag: row.tag,
    status: row.status,
    inspector: row.inspector,
    inspectorName: row.inspector_name,
    submittedAt: row.submitted_at === '' ? null : row.submitted_at,
    waitingSince: row.waiting_since === '' ? null : row.waiting_since,
    provisional: row.provisional === 1,
    rank: row.rank,
    result: row.result,
    energyClass: row.energy_class,
    assignedTo: row.assigned_to,
    reviewer: row.reviewer,
    concludedAt: row.concluded_at,
    entryCount: row.entry_count,
    body: JSON.parse(row.body) as Record<string, unknown>,
  };
}

/**
 * Drops every projection and derives it again from the entries, in one transaction.
 * Returns the number of subjects. Needed after a change of the projector; harmless at any time.
 */
export function rebuildProjections(store: Store, project: Projector): number {
  return store.transaction(() => {
    store.run(store.build.deleteFrom('subject_link'));
    store.run(store.build.deleteFrom('projection_inspection'));
    store.run(store.build.deleteFrom('projection_pair'));
    store.run(store.build.deleteFrom('projection_history'));
    const subjects = store.all(
      store.build
        .selectFrom('entry')
        .select(['site', 'subject_type', 'subject_id'])
        .distinct()
        .orderBy('site')
        .orderBy('subject_type')
        .orderBy('subject_id'),
    );
    for (const row of subjects) {
      const subject: Subject = {
        site: row.site,
        type: row.subject_type as SubjectType,
        id: row.subject_id,
      };
      projectSubject(store, subject, readEntries(store, subject), project);
    }
    return subjects.length;
  });
}

/**
 * Derives every projection again when another projector made them, or none yet: after a change of the program or of their
 * shape. Returns the number of subjects; null when nothing was to be done.
 */
export function bringUpToDate(store: Store, project: Projector, projector: string): number | null {
  return store.transaction(() => {
    const made = store.first(store.build.selectFrom('projection_made').select('projector'));
    if (made?.projector === projector) return null;
    const subjects = rebuildProjections(store, project);
    store.run(store.build.deleteFrom('projection_made'));
    store.run(store.build.insertInto('projection_made').values({ id: 1, projector }));
    return subjects;
  });
}
