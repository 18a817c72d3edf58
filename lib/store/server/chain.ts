import { type BrokenLink, brokenLinks, chainHash, type SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import { entryOf, type Subject, subjectRows } from './rows.ts';
import type { EntryRow } from './tables.ts';

type Row = Omit<EntryRow, 'seq'> & { readonly seq: number };

/** One break in the record. */
export interface ChainFault extends BrokenLink {
  /** Absent when a missing place in the log can no longer be told to belong to a subject. */
  readonly subject?: Subject;
}

/** What `verifyChains` found. */
export interface ChainReport {
  readonly entries: number;
  readonly subjects: number;
  readonly faults: readonly ChainFault[];
}

/**
 * Checks every subject's chain of hashes, its recorded length and end, and that no place in the log is empty.
 * The faults are listed by subject in order; an empty list means that the record is whole.
 */
export function verifyChains(store: Store): ChainReport {
  const faults: ChainFault[] = [];
  const heads = store.all(
    store.build
      .selectFrom('subject_head')
      .selectAll()
      .orderBy('site')
      .orderBy('subject_type')
      .orderBy('subject_id'),
  );
  const known = new Set<string>();
  for (const head of heads) {
    const subject: Subject = { site: head.site, type: head.subject_type as SubjectType, id: head.subject_id };
    known.add(`${subject.site} ${subject.type} ${subject.id}`);
    faults.push(...subjectFaults(subject, subjectRows(store, subject), head));
  }
  const present = store.all(
    store.build
      .selectFrom('entry')
      .select(['site', 'subject_type', 'subject_id', 'seq', 'id'])
      .orderBy('seq'),
  );
  for (const row of present) {
    if (known.has(`${row.site} ${row.subject_type} ${row.subject_id}`)) continue;
    const subject: Subject = { site: row.site, type: row.subject_type as SubjectType, id: row.subject_id };
    faults.push({ subject, fault: 'changed', seq: row.seq, entry: row.id });
  }
  faults.push(
    ...emptyPlaces(
      store,
      present.map((row) => row.seq),
    ),
  );
  return { entries: present.length, subjects: heads.length, faults };
}

function subjectFaults(
  subject: Subject,
  rows: readonly Row[],
  head: { readonly entry_count: number; readonly hash: string },
): ChainFault[] {
  const links = rows.map((row) => ({
    seq: row.seq,
    id: row.id,
    previousHash: row.previous_hash,
    hash: row.hash,
    recomputed: recomputed(row),
  }));
  return brokenLinks(links, { entries: head.entry_count, hash: head.hash }).map((fault) => ({
    subject,
    ...fault,
  }));
}

function recomputed(row: Row): string | undefined {
  try {
    return chainHash(row.previous_hash, row.received_at, entryOf(row));
  } catch (error) {
    // A body that is no longer JSON is a changed body, the very thing looked for.
    if (error instanceof SyntaxError) return undefined;
    throw error;
  }
}

/** Places are given without gaps, also over failed transactions; a gap or a short end means that rows were removed. */
function emptyPlaces(store: Store, seqs: readonly number[]): ChainFault[] {
  const given = store.sqlite
    .prepare<[], { seq: number }>("SELECT seq FROM sqlite_sequence WHERE name = 'entry'")
    .get();
  const faults: ChainFault[] = [];
  let expected = 1;
  for (const seq of [...seqs, (given?.seq ?? 0) + 1]) {
    for (; expected < seq; expected += 1) faults.push({ fault: 'missing', seq: expected });
    expected = seq + 1;
  }
  return faults;
}
