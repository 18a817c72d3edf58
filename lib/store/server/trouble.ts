/**
 * The store cannot be used: damaged, written by a newer program, not writable or out of space.
 * The message is one sentence for a person that says what to do; the server refuses to serve until it is done.
 */
export class StoreTrouble extends Error {
  readonly code: string;

  constructor(code: string, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.name = 'StoreTrouble';
    this.code = code;
  }
}

const SENTENCES: ReadonlyArray<{ readonly match: RegExp; readonly code: string; readonly text: string }> = [
  {
    match: /^(SQLITE_FULL|ENOSPC|EDQUOT)/,
    code: 'store-full',
    text: 'The disk that holds the data folder is full: free some space there and try again; nothing was half-written.',
  },
  {
    match: /^(SQLITE_CORRUPT|SQLITE_NOTADB|SQLITE_FORMAT)/,
    code: 'store-damaged',
    text: 'The database in the data folder is damaged: stop the server and restore the folder from the latest backup.',
  },
  {
    match:
      /^(SQLITE_READONLY|SQLITE_CANTOPEN|SQLITE_PERM|SQLITE_AUTH|EACCES|EROFS|EPERM|ENOTDIR|ENOENT|EEXIST)/,
    code: 'store-unwritable',
    text: 'The data folder cannot be written: give the server account write permission there or set RIMBOOK_DATA to a folder it may write.',
  },
  {
    match: /^(SQLITE_IOERR|EIO)/,
    code: 'store-disk',
    text: 'The disk that holds the data folder reports read or write errors: check the disk, then restore the folder from the latest backup.',
  },
  {
    match: /^SQLITE_BUSY/,
    code: 'store-busy',
    text: 'Another program holds the database locked: end it (a second server or a backup that hangs) and try again.',
  },
];

/** The trouble an error of the disk or the database stands for, or undefined when it is some other error. */
export function troubleOf(error: unknown): StoreTrouble | undefined {
  if (error instanceof StoreTrouble) return error;
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return undefined;
  const code = error.code;
  const found = SENTENCES.find((sentence) => sentence.match.test(code));
  return found === undefined ? undefined : new StoreTrouble(found.code, found.text, error);
}

/** Runs `work`; errors of the disk or the database leave it as a `StoreTrouble`, others unchanged. */
export function guarded<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw troubleOf(error) ?? error;
  }
}

/** `guarded` for work that ends later. */
export async function guardedLater<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw troubleOf(error) ?? error;
  }
}
