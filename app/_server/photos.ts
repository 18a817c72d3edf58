import { fail, must, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import {
  DERIVATIVE_WIDTHS,
  type Derivatives,
  type DerivativeWidth,
  PHOTO_UNDECIDED,
  readPhoto,
} from '../../lib/imaging/server/index.ts';
import { photoLabel, photoSizeProblem } from '../../lib/photo/index.ts';
import {
  addPhoto,
  findPhoto,
  findRefusal,
  findSite,
  type PhotoRecord,
  rememberRefusal,
  StoreTrouble,
  type UploadPiece,
  type UploadProblem,
  type WholeUpload,
} from '../../lib/store/server/index.ts';
import type { ServerContext } from './context.ts';
import { type Refusal, refuse } from './problems.ts';

/** One piece of a photo with what its headers say. */
export interface ReceivedPiece {
  readonly site: string;
  readonly sha256: string;
  readonly person: string;
  readonly offset: number;
  readonly bytes: number;
  readonly name: string;
  readonly data: Uint8Array;
}

/** State after a piece; `record` when the photo is stored, `added` when this piece completed it. */
export interface PieceTaken {
  readonly offset: number;
  readonly record?: PhotoRecord;
  readonly added: boolean;
}

/** Takes a piece of a photo; with the last one the photo is checked, decoded and stored. */
export async function receivePiece(
  context: ServerContext,
  piece: ReceivedPiece,
): Promise<Result<PieceTaken, Refusal>> {
  const { store, writing } = context;
  const stored = findPhoto(store, piece.site, piece.sha256);
  if (stored !== undefined) {
    // Somebody else has finished it meanwhile.
    await context.uploads.discard(piece);
    return ok({ offset: stored.bytes, record: stored, added: false });
  }
  const name = photoLabel(piece.name);
  const wrong =
    findRefusal(store, piece.site, piece.sha256) ??
    photoSizeProblem(piece.bytes) ??
    (name.ok ? undefined : name.error);
  if (wrong !== undefined) return fail(refuse(422, wrong));
  const key = `${piece.site}/${piece.sha256}/${piece.person}`;
  if (writing.has(key)) return fail(busy(piece.sha256));
  writing.add(key);
  try {
    return await addPiece(context, { ...piece, name: name.ok ? name.value : '' });
  } finally {
    writing.delete(key);
  }
}

function busy(sha256: string): Refusal {
  return refuse(
    409,
    problem(
      'upload-busy',
      'sha256',
      sha256,
      'Another piece of this photo is being written',
      'Wait for its reply, ask for the state, and send on from there.',
    ),
  );
}

async function addPiece(
  context: ServerContext,
  received: ReceivedPiece,
): Promise<Result<PieceTaken, Refusal>> {
  const piece = { ...received, now: context.now() };
  if (piece.offset + piece.data.length < piece.bytes) {
    const state = await context.uploads.add(piece);
    return state.ok ? ok({ offset: state.value.offset, added: false }) : fail(uploadRefusal(state.error));
  }
  return context.decoding.run(async () => {
    const whole = await context.uploads.whole(piece);
    if (!whole.ok) return fail(uploadRefusal(whole.error));
    const added = await complete(context, piece, whole.value);
    if (added.ok) return ok({ offset: piece.bytes, record: added.value, added: true });
    if (added.error.code === PHOTO_UNDECIDED) return fail(refuse(503, added.error));
    await context.uploads.discard(piece);
    return fail(refuse(422, added.error));
  });
}

function uploadRefusal(why: UploadProblem): Refusal {
  const status = { 'upload-offset': 409, 'upload-length': 422, 'upload-quota': 429 }[why.code];
  if (why.code !== 'upload-offset') return refuse(status, why);
  return refuse(status, why, { extra: { offset: Number(why.value) } });
}

async function complete(
  context: ServerContext,
  piece: UploadPiece,
  { content, name }: WholeUpload,
): Promise<Result<PhotoRecord, Problem>> {
  const { store, blobs, uploads } = context;
  const { site, sha256, bytes } = piece;
  const keepLocation = findSite(store, site)?.keepLocation ?? false;
  // Decoding takes other threads: the file is written and synced and its hash computed meanwhile.
  const [read, original] = await Promise.all([
    readPhoto(content, { keepLocation }),
    uploads.write(piece).then(() => blobs.prepare(uploads.file(piece), content, sha256)),
  ]);
  // A wrong hash is not remembered: the bytes announced were never seen.
  if (!original.ok) return original;
  if (!read.ok) {
    if (read.error.code === PHOTO_UNDECIDED) {
      uploads.hold(piece);
      return read;
    }
    rememberRefusal(store, { site, sha256, problem: read.error, now: context.now() });
    return read;
  }
  await Promise.all([
    original.value.keep(),
    keepDerivatives(context, sha256, read.value.derivatives, keepLocation),
  ]);
  addPhoto(store, {
    site,
    sha256,
    bytes,
    name,
    facts: JSON.stringify(read.value.facts),
    addedBy: piece.person,
    addedAt: context.now(),
  });
  return ok(must(findPhoto(store, site, sha256), 'the photo just stored'));
}

async function keepDerivatives(
  context: ServerContext,
  sha256: string,
  derivatives: Derivatives,
  keepLocation: boolean,
): Promise<void> {
  await Promise.all(
    DERIVATIVE_WIDTHS.map((width) =>
      context.blobs.putDerived(sha256, derivedName(width, keepLocation), derivatives[width]),
    ),
  );
}

function derivedName(width: DerivativeWidth, keepLocation: boolean): string {
  return keepLocation ? `${width}-located.webp` : `${width}.webp`;
}

/** A derived picture of a stored photo, made again when its file is missing. */
export async function derivedPicture(
  context: ServerContext,
  photo: PhotoRecord,
  width: DerivativeWidth,
): Promise<Buffer> {
  const keepLocation = findSite(context.store, photo.site)?.keepLocation ?? false;
  const find = () => context.blobs.readDerived(photo.sha256, derivedName(width, keepLocation));
  const kept = await find();
  if (kept !== undefined) return kept;
  return context.decoding.run(async () => {
    const made = await find();
    if (made !== undefined) return made;
    await requireOriginal(context, photo);
    const read = await readPhoto(await context.blobs.read(photo.sha256), { keepLocation });
    if (!read.ok && read.error.code === PHOTO_UNDECIDED) throw new Error(read.error.message);
    if (!read.ok) throw originalTrouble(photo.sha256);
    await keepDerivatives(context, photo.sha256, read.value.derivatives, keepLocation);
    return read.value.derivatives[width];
  });
}

/** Throws `StoreTrouble` unless the original is there with its full length. */
export async function requireOriginal(context: ServerContext, photo: PhotoRecord): Promise<void> {
  if ((await context.blobs.size(photo.sha256)) !== photo.bytes) throw originalTrouble(photo.sha256);
}

function originalTrouble(sha256: string): StoreTrouble {
  return new StoreTrouble(
    'photo-original',
    `The original of photo ${sha256.slice(0, 12)} is missing from the data folder or damaged: restore data/photos from the latest backup.`,
  );
}
