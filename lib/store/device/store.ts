import { type IDBPDatabase, openDB } from 'idb';
import { errorText, fail, ok, type Problem, problem, type Result, sha256Hex } from '../../base/index.ts';
import type { Entry, SubjectType } from '../../record/index.ts';
import { sameEntries } from './sameEntries.ts';
import { DEVICE_DATABASE_VERSION, type DevicePhoto, type DeviceSchema, type OutboxItem } from './schema.ts';

/** A photo as it comes in; with a problem it is kept on the device and not sent. */
export type NewPhoto = Omit<DevicePhoto, 'sha256' | 'state'>;

/** Everything a person's work on this device rests on. All writes are done when their promise settles. */
export interface DeviceStore {
  /** Writes entries made here, and puts them into the outbox, in one transaction. */
  append(entries: readonly Entry[]): Promise<void>;
  /** Keeps entries fetched from the server; an entry that is in the outbox leaves it, for it has arrived. */
  keep(entries: readonly Entry[]): Promise<void>;
  entriesOf(type: SubjectType, id: string): Promise<Entry[]>;
  /** Entries of a site about any of these types. */
  entriesOfSite(site: string, types: readonly SubjectType[]): Promise<Entry[]>;
  entriesOfKind(site: string, kind: string): Promise<Entry[]>;
  entry(id: string): Promise<Entry | undefined>;
  outbox(): Promise<OutboxItem[]>;
  markSent(ids: readonly string[]): Promise<void>;
  markRefused(id: string, reason: Problem): Promise<void>;
  /** Puts refused entries and photos back in line. */
  retry(ids: readonly string[]): Promise<void>;
  /** Stores a photo under the SHA-256 of its bytes; the same bytes are stored once. */
  addPhoto(photo: NewPhoto): Promise<Result<DevicePhoto, Problem>>;
  photo(sha256: string): Promise<DevicePhoto | undefined>;
  photosIn(state: DevicePhoto['state']): Promise<DevicePhoto[]>;
  markPhoto(sha256: string, state: DevicePhoto['state'], reason: Problem | null): Promise<void>;
  /** Removes a refused photo from the device, on a person's explicit word; does nothing to any other photo. */
  discardRefusedPhoto(sha256: string): Promise<void>;
  draft(key: string): Promise<string>;
  /** Keeps the text of a field; empty text removes it. */
  setDraft(key: string, text: string): Promise<void>;
  note(key: string): Promise<unknown>;
  setNote(key: string, value: unknown): Promise<void>;
  /** Keeps several notes at once, which is one change to whoever listens. */
  setNotes(notes: readonly (readonly [key: string, value: unknown])[]): Promise<void>;
  /** Calls back after every change, whichever tab made it. Returns the way to stop. */
  subscribe(listener: () => void): () => void;
  close(): void;
}

/** SHA-256 of a blob's bytes, by the browser where it may (secure pages), else by our own code. */
async function hashOf(blob: Blob): Promise<string> {
  const bytes = await blob.arrayBuffer();
  if (globalThis.crypto?.subtle === undefined) return sha256Hex(new Uint8Array(bytes));
  const digest = await globalThis.crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

function open(name: string): Promise<IDBPDatabase<DeviceSchema>> {
  return openDB<DeviceSchema>(name, DEVICE_DATABASE_VERSION, {
    upgrade(db, from, _, tx) {
      if (from < 1) {
        const entries = db.createObjectStore('entries', { keyPath: 'id' });
        entries.createIndex('subject', ['subject.type', 'subject.id']);
        entries.createIndex('site', 'site');
        db.createObjectStore('outbox', { keyPath: 'id' });
        db.createObjectStore('photos', { keyPath: 'sha256' }).createIndex('state', 'state');
        db.createObjectStore('drafts');
        db.createObjectStore('notes');
      }
      if (from < 2) {
        tx.objectStore('entries').createIndex('siteSubject', ['site', 'subject.type']);
        tx.objectStore('entries').createIndex('siteKind', ['site', 'kind']);
      }
    },
  });
}

/** Subscribers in this tab and, through a channel, in the others. */
function changes(name: string, onOtherTab: () => void) {
  const listeners = new Set<() => void>();
  const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(name);
  const tell = () => {
    for (const listener of listeners) listener();
  };
  if (channel !== null)
    channel.onmessage = () => {
      onOtherTab();
      tell();
    };
  return {
    subscribe(listener: () => void) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    changed() {
      tell();
      channel?.postMessage('changed');
    },
    close: () => channel?.close(),
  };
}

/**
 * Opens the database of one person on this device. `name` tells databases apart; it is made when it is not there.
 * Rejects when the browser has no IndexedDB or gives no room; the caller shows that, for nothing can be kept then.
 */
export async function openDeviceStore(name: string): Promise<DeviceStore> {
  const db = await open(name);
  const same = sameEntries();
  const { subscribe, changed, close } = changes(name, same.forget);
  return {
    ...entryParts(db, changed, same),
    ...photoParts(db, changed),
    async draft(key) {
      return (await db.get('drafts', key)) ?? '';
    },
    async setDraft(key, text) {
      if (text === '') await db.delete('drafts', key);
      else await db.put('drafts', text, key);
    },
    note: (key) => db.get('notes', key),
    async setNote(key, value) {
      await db.put('notes', value, key);
      changed();
    },
    async setNotes(notes) {
      if (notes.length === 0) return;
      const tx = db.transaction('notes', 'readwrite');
      await Promise.all(notes.map(([key, value]) => tx.store.put(value, key)));
      await tx.done;
      changed();
    },
    async retry(ids) {
      const tx = db.transaction(['outbox', 'photos'], 'readwrite');
      for (const id of ids) {
        const item = await tx.objectStore('outbox').get(id);
        if (item !== undefined)
          await tx.objectStore('outbox').put({ ...item, state: 'waiting', problem: null });
        const photo = await tx.objectStore('photos').get(id);
        if (photo?.state === 'refused')
          await tx.objectStore('photos').put({ ...photo, state: 'waiting', problem: null });
      }
      await tx.done;
      changed();
    },
    subscribe,
    close() {
      close();
      db.close();
    },
  };
}

type EntryParts = Pick<
  DeviceStore,
  | 'append'
  | 'keep'
  | 'entriesOf'
  | 'entriesOfSite'
  | 'entriesOfKind'
  | 'entry'
  | 'outbox'
  | 'markSent'
  | 'markRefused'
>;

function entryParts(
  db: IDBPDatabase<DeviceSchema>,
  changed: () => void,
  same: ReturnType<typeof sameEntries>,
): EntryParts {
  return {
    async append(entries) {
      const tx = db.transaction(['entries', 'outbox'], 'readwrite', { durability: 'strict' });
      for (const entry of entries) {
        await tx.objectStore('entries').put(entry);
        await tx
          .objectStore('outbox')
          .put({ id: entry.id, author: entry.author, state: 'waiting', problem: null });
      }
      await tx.done;
      changed();
    },
    async keep(entries) {
      if (entries.length === 0) return;
      const tx = db.transaction(['entries', 'outbox'], 'readwrite');
      const [stored, outbox] = [tx.objectStore('entries'), tx.objectStore('outbox')];
      // All questions are put at once: a book of ten years has thousands of entries.
      const [waiting, known] = await Promise.all([
        outbox.getAllKeys(),
        Promise.all(entries.map(({ id }) => stored.getKey(id))),
      ]);
      const waits = new Set(waiting);
      const taken = entries.filter(({ id }, i) => known[i] === undefined || waits.has(id));
      const news = taken.length > 0;
      const replaced = entries.some(({ id }, i) => known[i] !== undefined && waits.has(id));
      await Promise.all(
        taken.flatMap((entry) => [
          stored.put(entry),
          ...(waits.has(entry.id) ? [outbox.delete(entry.id)] : []),
        ]),
      );
      await tx.done;
      if (replaced) same.forget();
      if (news) changed();
    },
    entriesOf: async (type, id) => same.of(await db.getAllFromIndex('entries', 'subject', [type, id])),
    async entriesOfSite(site, types) {
      const ofTypes = await Promise.all(
        types.map((type) => db.getAllFromIndex('entries', 'siteSubject', [site, type])),
      );
      return same.of(ofTypes.flat());
    },
    entriesOfKind: async (site, kind) =>
      same.of(await db.getAllFromIndex('entries', 'siteKind', [site, kind])),
    entry: (id) => db.get('entries', id),
    outbox: () => db.getAll('outbox'),
    async markSent(ids) {
      if (ids.length === 0) return;
      const tx = db.transaction('outbox', 'readwrite');
      for (const id of ids) await tx.store.delete(id);
      await tx.done;
      changed();
    },
    async markRefused(id, reason) {
      const item = await db.get('outbox', id);
      if (item === undefined) return;
      await db.put('outbox', { ...item, state: 'refused', problem: reason });
      changed();
    },
  };
}

type PhotoParts = Pick<DeviceStore, 'addPhoto' | 'photo' | 'photosIn' | 'markPhoto' | 'discardRefusedPhoto'>;

function photoParts(db: IDBPDatabase<DeviceSchema>, changed: () => void): PhotoParts {
  return {
    async addPhoto(added) {
      let sha256: string;
      try {
        sha256 = await hashOf(added.blob);
      } catch (error) {
        const why = errorText(error);
        return fail(
          problem(
            'photo-unreadable',
            'photo',
            added.name,
            `The file cannot be read: ${why}`,
            'Choose the photo again.',
          ),
        );
      }
      const known = await db.get('photos', sha256);
      if (known !== undefined) return ok(known);
      const photo: DevicePhoto = { ...added, sha256, state: added.problem === null ? 'waiting' : 'refused' };
      await db.put('photos', photo);
      changed();
      return ok(photo);
    },
    photo: (sha256) => db.get('photos', sha256),
    photosIn: (state) => db.getAllFromIndex('photos', 'state', state),
    async discardRefusedPhoto(sha256) {
      const photo = await db.get('photos', sha256);
      if (photo?.state !== 'refused') return;
      await db.delete('photos', sha256);
      changed();
    },
    async markPhoto(sha256, state, reason) {
      const photo = await db.get('photos', sha256);
      if (photo === undefined) return;
      await db.put('photos', { ...photo, state, problem: reason });
      changed();
    },
  };
}
