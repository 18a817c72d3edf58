import { assert, canonicalJson, type Problem, problem, type Result, sha256Hex } from '../../base/index.ts';
import type { Entry, SubjectType } from '../../record/index.ts';
import type { Store } from './database.ts';
import { type Projector, projectSubject } from './projections.ts';
import { entryOf, readEntries, type Subject } from './rows.ts';

/** The hash before the first entry of a subject. */
export const FIRST_HASH = '0'.repeat(64);

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
}

/** `hash` of an entry in its chain: SHA-256 over the hash before it, its time of arrival and its canonical JSON. */
export function chainHash(previousHash: string, receivedAt: string, entry: Entry): string {
  return sha256Hex(`${previousHash}\n${receivedAt}\n${canonicalJson(entry)}`);
}

/**
 * Appends a batch in one transaction and brings the projections of every touched subject up to date in the same.
 * Each entry has its own outcome; a refused one does not hold up the others. The same entry sent again is
 * "already stored"; the same id with other content is refused with `id-conflict`.
 */
export function append(store: Store, entries: readonly Entry[], options: AppendOptions): Outcome[] {
  return store.transaction(() => {
    const batch = new Batch(store);
    const outcomes = entries.map((entry) => appendOne(store, batch, entry, options));
    for (const subject of batch.touched()) {
      projectSubject(store, subject, batch.read(subject.site, subject.type, subject.id), options.project);
    }
    return outcomes;
  });
}

function appendOne(store: Store, batch: Batch, entry: Entry, options: AppendOptions): Outcome {
  const known = store.first(store.build.selectFrom('entry').selectAll().where('id', '=', entry.id));
  if (known !== undefined) {
    if (canonicalJson(entryOf(known)) === canonicalJson(entry)) {
      return { id: entry.id, status: 'already stored', seq: known.seq, receivedAt: known.received_at };
    }
    return { id: entry.id, status: 'refused', problem: idConflict(entry.id) };
  }
  const accepted = options.accept(entry, (type, id) => batch.read(entry.site, type, id));
  if (!accepted.ok) return { id: entry.id, status: 'refused', problem: accepted.error };
  return { id: entry.id, status: 'stored', ...insert(store, batch, entry, options.receivedAt) };
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

  touched(): Iterable<Subject> {
    return this.#touched.values();
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
