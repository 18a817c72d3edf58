import type { Entry, StoredEntry, SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import type { EntryRow } from './tables.ts';

/** What an entry is about, within its site. */
export interface Subject {
  readonly site: string;
  readonly type: SubjectType;
  readonly id: string;
}

/** The entry as it was sent, from its row. */
export function entryOf(row: Omit<EntryRow, 'seq'>): Entry {
  return {
    id: row.id,
    site: row.site,
    subject: { type: row.subject_type as SubjectType, id: row.subject_id },
    kind: row.kind,
    v: row.v,
    at: row.at,
    author: row.author,
    device: row.device,
    body: JSON.parse(row.body) as Record<string, unknown>,
  };
}

/** The entry with its place in the log, from its row. */
export function storedEntryOf(row: Omit<EntryRow, 'seq'> & { readonly seq: number }): StoredEntry {
  return {
    ...entryOf(row),
    receivedAt: row.received_at,
    seq: row.seq,
    previousHash: row.previous_hash,
    hash: row.hash,
  };
}

/** Rows of a subject in order of arrival; empty when there is none. */
export function subjectRows(store: Store, subject: Subject) {
  return store.all(
    store.build
      .selectFrom('entry')
      .selectAll()
      .where('site', '=', subject.site)
      .where('subject_type', '=', subject.type)
      .where('subject_id', '=', subject.id)
      .orderBy('seq'),
  );
}

/** Entries of a subject as they were sent, in order of arrival; empty when there is none. */
export function readEntries(store: Store, subject: Subject): Entry[] {
  return subjectRows(store, subject).map(entryOf);
}
