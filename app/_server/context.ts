import {
  type Accounts,
  type Blobs,
  bringUpToDate,
  openAccounts,
  openBlobs,
  openStore,
  openUploads,
  readSettings,
  type Settings,
  type Store,
  StoreTrouble,
  type Uploads,
} from '../../lib/store/server/index.ts';
import { Attempts } from './attempts.ts';
import { Gate } from './gate.ts';
import { PROJECTOR, projectRecord } from './project.ts';

/** Pictures decoded at the same time; each may need some hundred megabytes. */
const DECODING_AT_ONCE = 2;
/** Passwords hashed at the same time, and how many more may wait; each takes some 60 ms of a processor. */
const HASHING_AT_ONCE = 2;
const HASHING_WAITING_MAX = 8;
/** How long a failed opening is answered without trying again. */
const RETRY_MS = 5000;

/** What is open for the life of the process. */
export interface ServerContext {
  readonly settings: Settings;
  readonly store: Store;
  readonly blobs: Blobs;
  readonly uploads: Uploads;
  readonly accounts: Accounts;
  /** Limits decoding at the same time. */
  readonly decoding: Gate;
  /** Limits hashing passwords at the same time. */
  readonly hashing: Gate;
  /** Passwords tried lately. */
  readonly attempts: Attempts;
  /** Uploads being written to, so that two pieces of one file never mix. */
  readonly writing: Set<string>;
  /** Server clock, ISO 8601 in UTC with milliseconds. */
  now(): string;
}

interface Holder {
  opening?: Promise<ServerContext>;
  failed?: { readonly error: unknown; readonly at: number };
}

const KEY = Symbol.for('rimbook.context');

function holder(): Holder {
  // Bundlers may load this module several times in one process; the database must be opened once.
  const shared = globalThis as { [KEY]?: Holder };
  shared[KEY] ??= {};
  return shared[KEY];
}

/**
 * The open server. Opens it at the first call; later calls share it. Rejects with `StoreTrouble` when it cannot
 * serve, and tries again a few seconds later, so that freed space or a restored folder needs no restart.
 */
export async function serverContext(): Promise<ServerContext> {
  const held = holder();
  if (held.failed !== undefined && Date.now() - held.failed.at < RETRY_MS) throw held.failed.error;
  held.opening ??= open();
  try {
    return await held.opening;
  } catch (error) {
    held.opening = undefined;
    held.failed = { error, at: Date.now() };
    throw error;
  }
}

/** Closes what is open; the next call of `serverContext` opens again with the settings of then. */
export async function closeServerContext(): Promise<void> {
  const held = holder();
  const opening = held.opening;
  held.opening = undefined;
  held.failed = undefined;
  if (opening !== undefined) (await opening).store.close();
}

async function open(): Promise<ServerContext> {
  const settings = readSettings(process.env);
  if (!settings.ok) throw new StoreTrouble('settings', settings.error.join(' '));
  const store = openStore(settings.value.dataFolder);
  try {
    bringUpToDate(store, projectRecord, PROJECTOR);
    return {
      settings: settings.value,
      store,
      blobs: openBlobs(settings.value.dataFolder),
      uploads: openUploads(store),
      accounts: await openAccounts(store, settings.value),
      decoding: new Gate(DECODING_AT_ONCE),
      hashing: new Gate(HASHING_AT_ONCE, HASHING_WAITING_MAX),
      attempts: new Attempts(),
      writing: new Set(),
      now: () => new Date().toISOString(),
    };
  } catch (error) {
    store.close();
    throw error;
  }
}
