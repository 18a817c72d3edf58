import { assert, canonicalJson, type Problem, problem, type Result } from '../../base/index.ts';
import { chainHash, type Entry, FIRST_HASH, type SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import { type Projector, projectSubject } from './projections.ts';
import { entryOf, readEntries, type Subject } from './rows.ts';
import type { EntryRow } from './tables.ts';
import { troubleOf } from './trouble.ts';

/** Entries of another subject of the same site, in order of arrival, with those of the batch so far. */
export type ReadSubject = (type: SubjectType, id: string) => readonly Entry[];

/** Whether an entry may be written; called inside the transaction, so what it reads is what it is written to. */
export type Accept = (entry: Entry, readSubject: ReadSubject) => Result<void, Problem>;

/** What became of one entry of a batch. */
export type Outcome =
  | {
      readonly id: string;
      readonly status: 'stored' | 'already stored';
      readonly seq: number;
      readonly receivedAt: string;
    }
  | { readonly id: string; readonly status: 'refused'; readonly problem: Problem };

export interface AppendOptions {
  /** Server clock, ISO 8601 in UTC. */
  readonly receivedAt: string;
  readonly accept: Accept;
  readonly project: Projector;
  /** Whether accepting an entry reads projections: those of the batch so far are then made first. */
  readonly readsProjections?: (entry: Entry) => boolean;
  /** Whether the sender may learn what is stored at a site; every site when left out. */
  readonly mayRead?: (site: string) => boolean;
  /** Told of a stored entry and all entries of its subject, inside the transaction; what it throws refuses the entry. */
  readonly stored?: (entry: Entry, subject: readonly Entry[]) => void;
  /** Told why an entry was refused with `entry-trouble`. */
  readonly log?: (entry: Entry, error: unknown) => void;
}

/**
 * Appends a batch in one transaction and brings the projections of every touched subject up to date in the same.
 * Each entry has its own outcome; a refused one does not hold up the others. The same entry sent again is
 * "already stored"; the same id with other content is refused with `id-conflict`. An entry whose handling fails is
 * refused with `entry-trouble`; trouble of the disk or the database is thrown, and nothing of the batch is written.
 */
export function append(store: Store, entries: readonly Entry[], options: AppendOptions): Outcome[] {
  return store.transaction(() => {
    const batch = new Batch(store);
    const project = () => {
      for (const subject of batch.takeTouched()) {
        projectSubject(store, subject, batch.read(subject.site, subject.type, subject.id), options.project);
      }
    };
    const outcomes = entries.map((entry) => {
      if (options.readsProjections?.(entry) === true) project();
      return appendGuarded(store, batch, entry, options);
    });
    project();
    return outcomes;
  });
}

/** Appends one entry in a transaction of its own inside the batch's, so that a failing one leaves no trace. */
function appendGuarded(store: Store, batch: Batch, entry: Entry, options: AppendOptions): Outcome {
  try {
    return store.transaction(() => appendOne(store, batch, entry, options));
  } catch (error) {
    if (troubleOf(error) !== undefined) throw error;
    options.log?.(entry, error);
    batch.forget({ site: entry.site, ...entry.subject });
    return { id: entry.id, status: 'refused', problem: entryTrouble(entry) };
  }
}

function appendOne(store: Store, batch: Batch, entry: Entry, options: AppendOptions): Outcome {
  const known = store.first(store.build.selectFrom('entry').selectAll().where('id', '=', entry.id));
  const mayRead = options.mayRead ?? (() => true);
  if (known !== undefined && mayRead(known.site) && mayRead(entry.site)) return again(entry, known);
  const accepted = options.accept(entry, (type, id) => batch.read(entry.site, type, id));
  if (!accepted.ok) return { id: entry.id, status: 'refused', problem: accepted.error };
  // An entry of a site that the sender may not read: all that is told is that the id cannot be used.
  if (known !== undefined) return { id: entry.id, status: 'refused', problem: idConflict(entry.id) };
  const place = insert(store, batch, entry, options.receivedAt);
  options.stored?.(entry, batch.read(entry.site, entry.subject.type, entry.subject.id));
  return { id: entry.id, status: 'stored', ...place };
}

/** The outcome of an entry whose id is stored. */
function again(entry: Entry, known: Omit<EntryRow, 'seq'> & { readonly seq: number }): Outcome {
  if (canonicalJson(entryOf(known)) === canonicalJson(entry)) {
    return { id: entry.id, status: 'already stored', seq: known.seq, receivedAt: known.received_at };
  }
  return { id: entry.id, status: 'refused', problem: idConflict(entry.id) };
}

function insert(store: Store, batch: Batch, entry: Entry, receivedAt: string) {
  const subject: Subject = { site: entry.site, ...entry.subject };
  const before = batch.read(subject.site, subject.type, subject.id);
  const head = store.first(
    store.build
      .selectFrom('subject_head')
      .select(['hash', 'entry_count'])
      .where('site', '=', subject.site)
      .where('subject_type', '=', subject.type)
      .where('subject_id', '=', subject.id),
  );
  const previousHash = head?.hash ?? FIRST_HASH;
  const hash = chainHash(previousHash, receivedAt, entry);
  const inserted = store.first(
    store.build
      .insertInto('entry')
      .values({
        id: entry.id,
        site: entry.site,
        subject_type: entry.subject.type,
        subject_id: entry.subject.id,
        kind: entry.kind,
        v: entry.v,
        at: entry.at,
        author: entry.author,
        device: entry.device,
        body: canonicalJson(entry.body),
        received_at: receivedAt,
        previous_hash: previousHash,
        hash,
      })
      .returning('seq'),
  );
  assert(inserted !== undefined, 'an inserted entry has a place in the log');
  store.run(
    store.build
      .insertInto('subject_head')
      .values({
        site: subject.site,
        subject_type: subject.type,
        subject_id: subject.id,
        entry_count: (head?.entry_count ?? 0) + 1,
        hash,
      })
      .onConflict((conflict) =>
        conflict
          .columns(['site', 'subject_type', 'subject_id'])
          .doUpdateSet({ entry_count: (head?.entry_count ?? 0) + 1, hash }),
      ),
  );
  batch.add(subject, before, entry);
  return { seq: inserted.seq, receivedAt };
}

/** Subjects read or written by one batch, so that each is read from the database once. */
class Batch {
  readonly #store: Store;
  readonly #entries = new Map<string, Entry[]>();
  readonly #touched = new Map<string, Subject>();

  constructor(store: Store) {
    this.#store = store;
  }

  read(site: string, type: SubjectType, id: string): readonly Entry[] {
    const key = `${site} ${type} ${id}`;
    let entries = this.#entries.get(key);
    if (entries === undefined) {
      entries = readEntries(this.#store, { site, type, id });
      this.#entries.set(key, entries);
    }
    return entries;
  }

  add(subject: Subject, before: readonly Entry[], entry: Entry): void {
    const key = `${subject.site} ${subject.type} ${subject.id}`;
    this.#entries.set(key, [...before, entry]);
    this.#touched.set(key, subject);
  }

  /** Reads the subject anew next time. */
  forget(subject: Subject): void {
    this.#entries.delete(`${subject.site} ${subject.type} ${subject.id}`);
  }

  /** Subjects written to since this was last asked. */
  takeTouched(): Subject[] {
    const touched = [...this.#touched.values()];
    this.#touched.clear();
    return touched;
  }
}

function idConflict(id: string): Problem {
  return problem(
    'id-conflict',
    'id',
    id,
    'An entry with this id is already stored with other content',
    'Entries never change: send the correction as a new entry with an id of its own.',
  );
}

function entryTrouble(entry: Entry): Problem {
  return problem(
    'entry-trouble',
    '',
    entry.kind,
    'The server could not handle this entry',
    `Send it again; if it is refused again, give the operator of the server its id ${entry.id}.`,
  );
}
