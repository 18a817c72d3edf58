import { sql } from 'kysely';
import { must } from '../../base/index.ts';
import type { StoredEntry, SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import { type InspectionLine, lineOf } from './projections.ts';
import { type Subject, storedEntryOf, subjectRows } from './rows.ts';

/** Entries of a subject with their places in the log, in order of arrival; empty when there is none. */
export function readSubject(store: Store, subject: Subject): StoredEntry[] {
  return subjectRows(store, subject).map(storedEntryOf);
}

/** How many entries a subject has, and the hash of the last: what its chain is checked against. Throws when it has none. */
export function readHead(
  store: Store,
  subject: Subject,
): { readonly entries: number; readonly hash: string } {
  const head = store.first(
    store.build
      .selectFrom('subject_head')
      .select(['entry_count', 'hash'])
      .where('site', '=', subject.site)
      .where('subject_type', '=', subject.type)
      .where('subject_id', '=', subject.id),
  );
  const { entry_count: entries, hash } = must(head, `head of ${subject.id}`);
  return { entries, hash };
}

/** Entries about components of one kind at a site, in order of arrival; for kinds of which there are few. */
export function componentEntriesOfKind(store: Store, site: string, kind: string): StoredEntry[] {
  return store
    .all(
      store.build
        .selectFrom('entry')
        .selectAll()
        .where('site', '=', site)
        .where('subject_type', '=', 'component')
        .where('kind', '=', kind)
        .orderBy('seq'),
    )
    .map(storedEntryOf);
}

/** Whether a person's entries about any of these subjects arrived after the entry `since`. */
export function wroteSince(
  store: Store,
  asked: {
    readonly site: string;
    readonly person: string;
    readonly subjects: readonly string[];
    readonly since: string;
  },
): boolean {
  if (asked.subjects.length === 0) return false;
  const begun = store.first(store.build.selectFrom('entry').select('seq').where('id', '=', asked.since));
  const found = store.first(
    store.build
      .selectFrom('entry')
      .select('seq')
      .where('site', '=', asked.site)
      .where('subject_type', 'in', ['component', 'instrument', 'wheel'])
      .where('subject_id', 'in', asked.subjects)
      .where('author', '=', asked.person)
      .where('seq', '>', begun?.seq ?? 0)
      .limit(1),
  );
  return found !== undefined;
}

/** Bodies in one reply, bytes; more only where a single entry is larger. */
const BODIES_BYTES_MAX = 4_000_000;

/** A page of a site's log. */
export interface LogPage {
  readonly entries: readonly StoredEntry[];
  /** Give this as `after` to read on; equals the given `after` when there was nothing. */
  readonly next: number;
  readonly more: boolean;
}

export interface LogQuery {
  readonly site: string;
  /** Place in the log after which to read; 0 for the beginning. */
  readonly after: number;
  readonly limit: number;
  /** Only entries about these types of subject; all when left out. */
  readonly subjects?: readonly SubjectType[];
}

/** Entries of a site after a place in the log, in order of arrival; a page ends early when their bodies are large. */
export function readLog(store: Store, query: LogQuery): LogPage {
  let select = store.build.selectFrom('entry').where('site', '=', query.site).where('seq', '>', query.after);
  if (query.subjects !== undefined) select = select.where('subject_type', 'in', query.subjects);
  // Sizes first: a page of the largest bodies would not fit into memory.
  const sizes = store.all(
    select
      .select(['seq', bodyBytes])
      .orderBy('seq')
      .limit(query.limit + 1),
  );
  let count = 0;
  let bytes = 0;
  for (const size of sizes.slice(0, query.limit)) {
    bytes += size.bytes;
    if (count > 0 && bytes > BODIES_BYTES_MAX) break;
    count += 1;
  }
  const next = sizes[count - 1]?.seq ?? query.after;
  const rows = count === 0 ? [] : store.all(select.selectAll().where('seq', '<=', next).orderBy('seq'));
  return { entries: rows.map(storedEntryOf), next, more: sizes.length > count };
}

const bodyBytes = sql<number>`octet_length(body)`.as('bytes');

/** All that is known of a wheel: its own entries, its components' and its inspections'. */
export interface WheelBook {
  readonly wheel: string;
  readonly entries: readonly StoredEntry[];
  readonly components: ReadonlyArray<{ readonly id: string; readonly entries: readonly StoredEntry[] }>;
  readonly inspections: ReadonlyArray<{
    readonly id: string;
    readonly line: InspectionLine | null;
    readonly entries: readonly StoredEntry[];
  }>;
  /** Whether the entries of some inspections, the oldest ones, are left out: read those inspection by inspection. */
  readonly more: boolean;
}

/**
 * The book of a wheel at a site, or undefined when nothing there speaks of it. The wheel and its components come
 * whole; of the inspections the last written to, as far as their bodies fit, and of the others their lines alone.
 */
export function readWheelBook(store: Store, site: string, wheel: string): WheelBook | undefined {
  const entries = readSubject(store, { site, type: 'wheel', id: wheel });
  const links = store.all(
    store.build
      .selectFrom('subject_link')
      .select(['subject_type', 'subject_id'])
      .where('site', '=', site)
      .where('wheel', '=', wheel)
      .orderBy('subject_id'),
  );
  if (entries.length === 0 && links.length === 0) return undefined;
  const linked = (type: SubjectType) =>
    links.filter((link) => link.subject_type === type).map((link) => link.subject_id);
  const inspections = linked('inspection');
  const fitting = lastWritten(store, site, inspections);
  return {
    wheel,
    entries,
    components: linked('component').map((id) => ({
      id,
      entries: readSubject(store, { site, type: 'component', id }),
    })),
    inspections: inspections.map((id) => ({
      id,
      line: readInspectionLine(store, site, id) ?? null,
      entries: fitting.has(id) ? readSubject(store, { site, type: 'inspection', id }) : [],
    })),
    more: fitting.size < inspections.length,
  };
}

/** Of these inspections the last written to whose bodies fit into one reply; the very last always. */
function lastWritten(store: Store, site: string, inspections: readonly string[]): ReadonlySet<string> {
  const sizes = inspections.flatMap((id) => {
    const size = store.first(
      store.build
        .selectFrom('entry')
        .select([sql<number>`max(seq)`.as('seq'), sql<number>`sum(octet_length(body))`.as('bytes')])
        .where('site', '=', site)
        .where('subject_type', '=', 'inspection')
        .where('subject_id', '=', id),
    );
    return size === undefined ? [] : [{ id, ...size }];
  });
  const fitting = new Set<string>();
  let bytes = 0;
  for (const size of sizes.sort((a, b) => b.seq - a.seq)) {
    bytes += size.bytes;
    if (fitting.size > 0 && bytes > BODIES_BYTES_MAX) break;
    fitting.add(size.id);
  }
  return fitting;
}

/** Ids of the subjects of one type that belong or belonged to a wheel, in order. */
export function linkedSubjects(store: Store, site: string, wheel: string, type: SubjectType): string[] {
  return store
    .all(
      store.build
        .selectFrom('subject_link')
        .select('subject_id')
        .where('site', '=', site)
        .where('wheel', '=', wheel)
        .where('subject_type', '=', type)
        .orderBy('subject_id'),
    )
    .map((link) => link.subject_id);
}

/** Ids of all subjects of one type at a site, in order. */
export function subjectsOfType(store: Store, site: string, type: SubjectType): string[] {
  return store
    .all(
      store.build
        .selectFrom('subject_head')
        .select('subject_id')
        .where('site', '=', site)
        .where('subject_type', '=', type)
        .orderBy('subject_id'),
    )
    .map((head) => head.subject_id);
}

/** The line of one inspection, or undefined when its entries make none. */
export function readInspectionLine(store: Store, site: string, id: string): InspectionLine | undefined {
  const row = store.first(
    store.build.selectFrom('projection_inspection').selectAll().where('site', '=', site).where('id', '=', id),
  );
  return row === undefined ? undefined : lineOf(row);
}

/** The last submission of one wheel. */
export interface LastSubmission {
  readonly wheel: string;
  readonly inspection: string;
  readonly line: InspectionLine;
  readonly entry: StoredEntry;
}

/** The last submission of every wheel of a site after the wheel `after`, by id of the wheel; a page ends early when their bodies are large. */
export function readLastSubmissions(
  store: Store,
  query: { readonly site: string; readonly after: string; readonly limit: number; readonly kind: string },
): { readonly submissions: readonly LastSubmission[]; readonly next: string | null } {
  const newest = store.all(
    store.build
      .selectFrom((from) =>
        from
          .selectFrom('projection_inspection')
          .select(['wheel', 'id'])
          .select(
            sql<number>`row_number() over (partition by wheel order by submitted_at desc, id desc)`.as('nth'),
          )
          .where('site', '=', query.site)
          .where('submitted_at', '!=', '')
          .where('wheel', '>', query.after)
          .as('submitted'),
      )
      .select(['wheel', 'id'])
      .where('nth', '=', 1)
      .orderBy('wheel')
      .limit(query.limit + 1),
  );
  const submissions: LastSubmission[] = [];
  let bytes = 0;
  for (const { wheel, id } of newest.slice(0, query.limit)) {
    const row = store.first(
      store.build
        .selectFrom('entry')
        .selectAll()
        .where('site', '=', query.site)
        .where('subject_type', '=', 'inspection')
        .where('subject_id', '=', id)
        .where('kind', '=', query.kind)
        .orderBy('at', 'desc')
        .orderBy('id', 'desc')
        .limit(1),
    );
    if (row === undefined) continue;
    bytes += row.body.length;
    if (submissions.length > 0 && bytes > BODIES_BYTES_MAX) break;
    const line = must(readInspectionLine(store, query.site, id), `line of ${id}`);
    submissions.push({ wheel, inspection: id, line, entry: storedEntryOf(row) });
  }
  const last = submissions.at(-1)?.wheel;
  const more = last !== undefined && newest.at(-1)?.wheel !== last;
  return { submissions, next: more ? last : null };
}
