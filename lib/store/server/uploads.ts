import { readFile, rm } from 'node:fs/promises';
import { assert, fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';
import { guarded, guardedLater } from './trouble.ts';
import { adoptOldFiles, fileIn, sizeOf, type UploadPlace, writeAt } from './upload-files.ts';

export type { UploadPlace };

/** Photos one person may have begun and not finished. */
export const OPEN_UPLOADS_MAX = 50;
/** After this long without a new piece a begun upload makes room for the same person's next one; the device still has it. */
const IDLE_MS_MAX = 7 * 24 * 3600 * 1000;

/** How far an upload has come; until the photo is stored at least one byte is still to be sent. */
export interface UploadState {
  readonly offset: number;
  readonly bytes: number;
  readonly name: string;
}

/** One piece of a photo. */
export interface UploadPiece extends UploadPlace {
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

/** Begun uploads, one file each, kept apart by site and person: what one has begun another cannot see. */
export interface Uploads {
  /** State of a begun upload, or undefined when there is none. */
  state(place: UploadPlace): Promise<UploadState | undefined>;
  /** Adds a piece at the end of what is there; the state after it. */
  add(piece: UploadPiece): Promise<Result<UploadState, UploadProblem>>;
  /** The whole content when `piece` is the last one and fits; nothing is written yet, see `write`. */
  whole(piece: UploadPiece): Promise<Result<WholeUpload, UploadProblem>>;
  /** Writes the last piece, so that the file is complete. */
  write(piece: UploadPiece): Promise<void>;
  /** Notes that the whole file is written but not yet judged: sending its end again has it looked at again. */
  hold(piece: UploadPiece): void;
  /** The file of a begun upload. */
  file(place: UploadPlace): string;
  /** Forgets an upload and removes its file, if there is one. */
  discard(place: UploadPlace): Promise<void>;
}

/** Opens the folder of begun uploads beside the database. */
export function openUploads(store: Store): Uploads {
  const file = (place: UploadPlace) => fileIn(store.folder, place);
  guarded(() => adoptOldFiles(store));
  const discard = async (place: UploadPlace) => {
    await rm(file(place), { force: true });
    store.run(
      store.build
        .deleteFrom('upload')
        .where('site', '=', place.site)
        .where('sha256', '=', place.sha256)
        .where('person', '=', place.person),
    );
  };
  const state = async (place: UploadPlace): Promise<UploadState | undefined> => {
    const row = rowOf(store, place);
    if (row === undefined) return undefined;
    // Never all of it: a sender who reads "all there" would take a photo for stored that is not.
    const offset = Math.min(await sizeOf(file(place)), row.bytes - 1);
    return { offset, bytes: row.bytes, name: row.name };
  };
  const add = async (piece: UploadPiece): Promise<Result<UploadState, UploadProblem>> => {
    const before = await state(piece);
    const wrong = pieceProblem(piece, before);
    if (wrong !== undefined) return fail(wrong);
    if (before === undefined) {
      const room = await makeRoom(store, piece, discard);
      if (!room.ok) return room;
    }
    note(store, piece);
    await writeAt(file(piece), piece.offset, piece.data);
    return ok({
      offset: piece.offset + piece.data.length,
      bytes: piece.bytes,
      name: before?.name ?? piece.name,
    });
  };
  const whole = async (piece: UploadPiece): Promise<Result<WholeUpload, UploadProblem>> => {
    assert(piece.offset + piece.data.length >= piece.bytes, 'the last piece of a file');
    const before = await state(piece);
    const wrong = pieceProblem(piece, before);
    if (wrong !== undefined) return fail(wrong);
    const begun = before === undefined ? [] : [(await readFile(file(piece))).subarray(0, before.offset)];
    return ok({ content: Buffer.concat([...begun, piece.data]), name: before?.name ?? piece.name });
  };
  return {
    file,
    whole: (piece) => guardedLater(() => whole(piece)),
    write: (piece) => guardedLater(() => writeAt(file(piece), piece.offset, piece.data)),
    hold: (piece) => note(store, piece),
    state: (place) => guardedLater(() => state(place)),
    add: (piece) => guardedLater(() => add(piece)),
    discard: (place) => guardedLater(() => discard(place)),
  };
}

function rowOf(store: Store, { site, sha256, person }: UploadPlace) {
  return store.first(
    store.build
      .selectFrom('upload')
      .selectAll()
      .where('site', '=', site)
      .where('sha256', '=', sha256)
      .where('person', '=', person),
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
  discard: (place: UploadPlace) => Promise<void>,
): Promise<Result<void, UploadProblem>> {
  const begun = store.all(store.build.selectFrom('upload').selectAll().where('person', '=', piece.person));
  if (begun.length < OPEN_UPLOADS_MAX) return ok(undefined);
  const idle = begun.filter((row) => Date.parse(piece.now) - Date.parse(row.touched_at) > IDLE_MS_MAX);
  for (const row of idle) await discard(row);
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
        conflict.columns(['site', 'sha256', 'person']).doUpdateSet({ touched_at: piece.now }),
      ),
  );
}
