import { mkdir, open, readFile, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { assert, fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';
import { guardedLater } from './trouble.ts';

/** Photos one person may have begun and not finished. */
export const OPEN_UPLOADS_MAX = 50;
/** After this long without a new piece a begun upload makes room for the same person's next one; the device still has it. */
const IDLE_MS_MAX = 7 * 24 * 3600 * 1000;

/** How far an upload has come. */
export interface UploadState {
  readonly offset: number;
  readonly bytes: number;
  readonly name: string;
}

/** One piece of a photo. */
export interface UploadPiece {
  readonly site: string;
  readonly sha256: string;
  readonly person: string;
  /** Place of the first byte of `data` in the file. */
  readonly offset: number;
  /** Length of the whole file. */
  readonly bytes: number;
  /** Label of the file, already checked. */
  readonly name: string;
  readonly data: Uint8Array;
  /** Server clock, ISO 8601 in UTC. */
  readonly now: string;
}

/** A file whose last piece has come. */
export interface WholeUpload {
  readonly content: Buffer;
  /** Label given with the first piece. */
  readonly name: string;
}

/** Why a piece was not taken: `problem.value` of `upload-offset` is the place from which to send on. */
export type UploadProblem = Problem & {
  readonly code: 'upload-offset' | 'upload-length' | 'upload-quota';
};

/** Begun uploads, one file each, kept apart by site: what one site has begun another cannot see. */
export interface Uploads {
  /** State of a begun upload, or undefined when there is none. */
  state(site: string, sha256: string): Promise<UploadState | undefined>;
  /** Adds a piece at the end of what is there; the state after it. */
  add(piece: UploadPiece): Promise<Result<UploadState, UploadProblem>>;
  /** The whole content when `piece` is the last one and fits; nothing is written yet, see `write`. */
  whole(piece: UploadPiece): Promise<Result<WholeUpload, UploadProblem>>;
  /** Writes the last piece, so that the file is complete. */
  write(piece: UploadPiece): Promise<void>;
  /** The file of a begun upload. */
  file(site: string, sha256: string): string;
  /** Forgets an upload and removes its file, if there is one. */
  discard(site: string, sha256: string): Promise<void>;
}

/** Opens the folder of begun uploads beside the database. */
export function openUploads(store: Store): Uploads {
  const file = (site: string, sha256: string) => {
    assert(/^[0-9a-f-]{36}$/.test(site), `${site} is a site id`);
    assert(/^[0-9a-f]{64}$/.test(sha256), `${sha256} is a SHA-256`);
    return join(store.folder, 'uploads', site, `${sha256}.part`);
  };
  const discard = async (site: string, sha256: string) => {
    await rm(file(site, sha256), { force: true });
    store.run(store.build.deleteFrom('upload').where('site', '=', site).where('sha256', '=', sha256));
  };
  const state = async (site: string, sha256: string): Promise<UploadState | undefined> => {
    const row = rowOf(store, site, sha256);
    if (row === undefined) return undefined;
    return { offset: await sizeOf(file(site, sha256)), bytes: row.bytes, name: row.name };
  };
  const add = async (piece: UploadPiece): Promise<Result<UploadState, UploadProblem>> => {
    const before = await state(piece.site, piece.sha256);
    const wrong = pieceProblem(piece, before);
    if (wrong !== undefined) return fail(wrong);
    if (before === undefined) {
      const room = await makeRoom(store, piece, discard);
      if (!room.ok) return room;
    }
    note(store, piece);
    await writeAt(file(piece.site, piece.sha256), piece.offset, piece.data);
    return ok({
      offset: piece.offset + piece.data.length,
      bytes: piece.bytes,
      name: before?.name ?? piece.name,
    });
  };
  const whole = async (piece: UploadPiece): Promise<Result<WholeUpload, UploadProblem>> => {
    assert(piece.offset + piece.data.length >= piece.bytes, 'the last piece of a file');
    const before = await state(piece.site, piece.sha256);
    const wrong = pieceProblem(piece, before);
    if (wrong !== undefined) return fail(wrong);
    const begun = before === undefined ? [] : [await readFile(file(piece.site, piece.sha256))];
    return ok({ content: Buffer.concat([...begun, piece.data]), name: before?.name ?? piece.name });
  };
  return {
    file,
    whole: (piece) => guardedLater(() => whole(piece)),
    write: (piece) => guardedLater(() => writeAt(file(piece.site, piece.sha256), piece.offset, piece.data)),
    state: (site, sha256) => guardedLater(() => state(site, sha256)),
    add: (piece) => guardedLater(() => add(piece)),
    discard: (site, sha256) => guardedLater(() => discard(site, sha256)),
  };
}

function rowOf(store: Store, site: string, sha256: string) {
  return store.first(
    store.build.selectFrom('upload').selectAll().where('site', '=', site).where('sha256', '=', sha256),
  );
}

function pieceProblem(piece: UploadPiece, before: UploadState | undefined): UploadProblem | undefined {
  if (before !== undefined && before.bytes !== piece.bytes) {
    return uploadProblem(
      'upload-length',
      'Upload-Length',
      piece.bytes,
      `This upload was begun with a length of ${before.bytes} bytes`,
      'Send the same length with every piece of a file.',
    );
  }
  const expected = before?.offset ?? 0;
  if (piece.offset !== expected) {
    return uploadProblem(
      'upload-offset',
      'Upload-Offset',
      expected,
      `The piece begins at byte ${piece.offset}, expected is byte ${expected}`,
      `Send on from byte ${expected}.`,
    );
  }
  if (piece.offset + piece.data.length > piece.bytes) {
    return uploadProblem(
      'upload-length',
      'Upload-Length',
      piece.bytes,
      `The piece ends after the announced length of ${piece.bytes} bytes`,
      'Announce the length of the whole file and send no more than that.',
    );
  }
  return undefined;
}

async function makeRoom(
  store: Store,
  piece: UploadPiece,
  discard: (site: string, sha256: string) => Promise<void>,
): Promise<Result<void, UploadProblem>> {
  const begun = store.all(store.build.selectFrom('upload').selectAll().where('person', '=', piece.person));
  if (begun.length < OPEN_UPLOADS_MAX) return ok(undefined);
  const idle = begun.filter((row) => Date.parse(piece.now) - Date.parse(row.touched_at) > IDLE_MS_MAX);
  for (const row of idle) await discard(row.site, row.sha256);
  if (begun.length - idle.length < OPEN_UPLOADS_MAX) return ok(undefined);
  return fail(
    uploadProblem(
      'upload-quota',
      'sha256',
      begun.length,
      `You have ${begun.length} photos begun and not finished`,
      'Finish sending those first.',
    ),
  );
}

function uploadProblem(
  code: UploadProblem['code'],
  field: string,
  value: unknown,
  message: string,
  wayOut: string,
): UploadProblem {
  return { ...problem(code, field, value, message, wayOut), code };
}

function note(store: Store, piece: UploadPiece): void {
  store.run(
    store.build
      .insertInto('upload')
      .values({
        site: piece.site,
        sha256: piece.sha256,
        person: piece.person,
        bytes: piece.bytes,
        name: piece.name,
        touched_at: piece.now,
      })
      .onConflict((conflict) =>
        conflict.columns(['site', 'sha256']).doUpdateSet({ touched_at: piece.now, person: piece.person }),
      ),
  );
}

async function writeAt(path: string, offset: number, data: Uint8Array): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const handle = await open(path, offset === 0 ? 'w' : 'r+', 0o600);
  try {
    let written = 0;
    while (written < data.length) {
      const piece = await handle.write(data, written, data.length - written, offset + written);
      written += piece.bytesWritten;
    }
  } finally {
    await handle.close();
  }
}

async function sizeOf(path: string): Promise<number> {
  try {
    return (await stat(path)).size;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 0;
    throw error;
  }
}
