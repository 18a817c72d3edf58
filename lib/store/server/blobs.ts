import { createHash, randomBytes } from 'node:crypto';
import { mkdir, open, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { assert, fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import { guardedLater } from './trouble.ts';

const SHA256 = /^[0-9a-f]{64}$/;

/**
 * Files of photos: originals under the SHA-256 of their bytes, stored once however often they are sent,
 * and derived pictures beside them. A file appears whole and synced to the disk, or not at all.
 */
export interface Blobs {
  /** Where an original lies, whether or not it is there. */
  path(sha256: string): string;
  /** Length of an original in bytes, or undefined when it is not there. */
  size(sha256: string): Promise<number | undefined>;
  /** Bytes of an original. */
  read(sha256: string): Promise<Buffer>;
  /**
   * Checks that a file, whose content the caller has read, has the announced hash, and syncs it to the disk. `keep`
   * then makes it the original: the file is moved, or removed because the original is there already.
   */
  prepare(file: string, content: Uint8Array, sha256: string): Promise<Result<PreparedOriginal, Problem>>;
  /** Stores an original from memory. */
  put(content: Uint8Array, sha256: string): Promise<Result<void, Problem>>;
  /** A derived picture, or undefined when it is missing and must be made again. */
  readDerived(sha256: string, name: string): Promise<Buffer | undefined>;
  /** Keeps a derived picture; it may be missing again after a loss of power, never half there. */
  putDerived(sha256: string, name: string, content: Uint8Array): Promise<void>;
}

/** A checked file that is not yet an original. */
export interface PreparedOriginal {
  keep(): Promise<void>;
}

/** Opens the photo folder under `folder`; it is made when the first photo comes. */
export function openBlobs(folder: string): Blobs {
  const place = (shelf: string, sha256: string, ending: string) => {
    assert(SHA256.test(sha256), `${sha256} is a SHA-256`);
    assert(/^[a-z0-9.-]*$/.test(ending), `${ending} is a plain file ending`);
    return join(folder, shelf, sha256.slice(0, 2), `${sha256}${ending}`);
  };
  const path = (sha256: string) => place('photos', sha256, '');
  const size = (sha256: string) => guardedLater(() => sizeIfThere(path(sha256)));
  return {
    path,
    size,
    read: (sha256) => guardedLater(() => readFile(path(sha256))),
    prepare: (file, content, sha256) => guardedLater(() => prepare(file, content, path(sha256), sha256)),
    put: (content, sha256) => guardedLater(() => put(content, path(sha256), sha256)),
    readDerived: (sha256, name) => guardedLater(() => readIfThere(place('derived', sha256, `-${name}`))),
    putDerived: (sha256, name, content) =>
      guardedLater(() => writeWhole(place('derived', sha256, `-${name}`), content)),
  };
}

async function prepare(
  file: string,
  content: Uint8Array,
  path: string,
  sha256: string,
): Promise<Result<PreparedOriginal>> {
  const synced = syncPath(file, 'r+');
  const found = createHash('sha256').update(content).digest('hex');
  await synced;
  if (found !== sha256 || (await sizeIfThere(file)) !== content.length) return fail(mismatch(sha256, found));
  const keep = async () => {
    if ((await sizeIfThere(path)) === content.length) return rm(file);
    await mkdir(dirname(path), { recursive: true, mode: 0o700 });
    await rename(file, path);
    await syncPath(dirname(path), 'r');
  };
  return ok({ keep: () => guardedLater(keep) });
}

async function put(content: Uint8Array, path: string, sha256: string): Promise<Result<void>> {
  const found = createHash('sha256').update(content).digest('hex');
  if (found !== sha256) return fail(mismatch(sha256, found));
  if ((await sizeIfThere(path)) !== content.length) {
    await writeWhole(path, content);
    await syncPath(dirname(path), 'r');
  }
  return ok(undefined);
}

function mismatch(expected: string, found: string): Problem {
  return problem(
    'photo-hash',
    'sha256',
    found,
    `The bytes received do not have the announced SHA-256 ${expected}`,
    'Send the photo again from its beginning.',
  );
}

async function writeWhole(path: string, content: Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  const temporary = `${path}.${randomBytes(6).toString('hex')}.part`;
  try {
    const handle = await open(temporary, 'wx', 0o600);
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
}

/** Makes content last, or for a folder its renames: without it they may be lost with the power. */
async function syncPath(path: string, mode: 'r' | 'r+'): Promise<void> {
  const handle = await open(path, mode);
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function sizeIfThere(path: string): Promise<number | undefined> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
}

async function readIfThere(path: string): Promise<Buffer | undefined> {
  try {
    return await readFile(path);
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT';
}
