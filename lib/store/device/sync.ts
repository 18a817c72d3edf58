import { type Problem, problem } from '../../base/index.ts';
import { byTimeThenId, type Entry } from '../../record/index.ts';
import type { DevicePhoto } from './schema.ts';
import type { DeviceStore } from './store.ts';

/** What became of one sent entry. */
export type SendOutcome =
  | { readonly id: string; readonly status: 'stored' | 'already stored' }
  | { readonly id: string; readonly status: 'refused'; readonly problem: Problem };

/** What became of one piece of a photo. */
export type PieceOutcome =
  | { readonly status: 'more'; readonly offset: number }
  | { readonly status: 'complete' }
  | { readonly status: 'refused'; readonly problem: Problem };

/**
 * The server as the device sees it. Every call throws `Unreachable` when there is no answer to be had
 * (no network, server down, signed out): then everything stays as it is and is tried again later.
 */
export interface Remote {
  send(entries: readonly Entry[]): Promise<readonly SendOutcome[]>;
  /** Where to go on sending a photo; its length when the server has all of it. */
  photoOffset(photo: DevicePhoto): Promise<number>;
  sendPiece(photo: DevicePhoto, offset: number, piece: Blob): Promise<PieceOutcome>;
  /** Register entries of a site (site, wheels, components, instruments) after a place in the order of arrival. */
  register(
    site: string,
    after: number,
  ): Promise<{ readonly entries: readonly Entry[]; readonly next: number; readonly more: boolean }>;
}

/** No answer was to be had; nothing is known of what was asked. */
export class Unreachable extends Error {
  /** True when the server answered that nobody is signed in. */
  readonly signedOut: boolean;
  /** True when the server was there and could not deal with this one request now. */
  readonly busy: boolean;
  constructor(message: string, { signedOut = false, busy = false } = {}) {
    super(message);
    this.name = 'Unreachable';
    this.signedOut = signedOut;
    this.busy = busy;
  }
}

const BATCH_ENTRIES = 100;
/** Below what the server takes in one request; a larger entry goes alone. */
const BATCH_BYTES = 6_000_000;
const PIECE_BYTES = 1024 * 1024;

/**
 * Sends what waits, oldest first. Entries of other people on this device wait until those sign in. A refused entry or
 * photo stays with its reason and holds nothing else up. Throws `Unreachable` when the server cannot be had.
 */
export async function sendWaiting(store: DeviceStore, remote: Remote, person: string): Promise<void> {
  await sendEntries(store, remote, person);
  let later: Unreachable | null = null;
  for (const photo of await store.photosIn('waiting')) {
    try {
      await sendPhoto(store, remote, photo);
    } catch (error) {
      // One photo that the server cannot deal with now does not hold the others up.
      if (!(error instanceof Unreachable) || !error.busy) throw error;
      later = error;
    }
  }
  if (later !== null) throw later;
}

async function sendEntries(store: DeviceStore, remote: Remote, person: string): Promise<void> {
  const waiting = (await store.outbox()).filter((item) => item.state === 'waiting' && item.author === person);
  const entries = (await Promise.all(waiting.map((item) => store.entry(item.id)))).filter(
    (entry) => entry !== undefined,
  );
  entries.sort(byTimeThenId);
  for (const batch of batchesOf(entries)) {
    const outcomes = await remote.send(batch);
    await store.markSent(outcomes.filter((one) => one.status !== 'refused').map((one) => one.id));
    for (const one of outcomes) if (one.status === 'refused') await store.markRefused(one.id, one.problem);
  }
}

/** Entries in their order, parted so that no batch has too many or too large ones. */
function batchesOf(entries: readonly Entry[]): Entry[][] {
  const batches: Entry[][] = [];
  let bytes = 0;
  for (const entry of entries) {
    const own = new TextEncoder().encode(JSON.stringify(entry)).length;
    const last = batches.at(-1);
    if (last === undefined || last.length >= BATCH_ENTRIES || bytes + own > BATCH_BYTES) {
      batches.push([entry]);
      bytes = own;
    } else {
      last.push(entry);
      bytes += own;
    }
  }
  return batches;
}

async function sendPhoto(store: DeviceStore, remote: Remote, photo: DevicePhoto): Promise<void> {
  let offset = await remote.photoOffset(photo);
  if (offset >= photo.blob.size && photo.blob.size > 0) {
    await store.markPhoto(photo.sha256, 'confirmed', null);
    return;
  }
  if (photo.blob.size === 0) {
    await store.markPhoto(
      photo.sha256,
      'refused',
      problem('photo-empty', 'photo', photo.name, 'The file is empty', 'Take the photo again.'),
    );
    return;
  }
  for (;;) {
    const outcome = await remote.sendPiece(photo, offset, photo.blob.slice(offset, offset + PIECE_BYTES));
    if (outcome.status === 'more') offset = outcome.offset;
    else {
      await store.markPhoto(
        photo.sha256,
        outcome.status === 'complete' ? 'confirmed' : 'refused',
        outcome.status === 'refused' ? outcome.problem : null,
      );
      return;
    }
  }
}

/** Fetches what is new in the registers of a site, page by page, remembering how far it has come. */
export async function fetchRegister(store: DeviceStore, remote: Remote, site: string): Promise<void> {
  // Since 2 with tables, since 3 with studies: a cursor of before has passed over them.
  const key = `register cursor 3 ${site}`;
  const known = await store.note(key);
  let after = typeof known === 'number' ? known : 0;
  for (;;) {
    const page = await remote.register(site, after);
    await store.keep(page.entries);
    if (page.next !== after) await store.setNote(key, page.next);
    after = page.next;
    if (!page.more) return;
  }
}
