import { type Problem, problem } from '../../lib/base/index.ts';
import type { Entry } from '../../lib/record/index.ts';
import type { Withheld } from '../../lib/review/index.ts';
import {
  type DevicePhoto,
  type DeviceStore,
  type PieceOutcome,
  type Remote,
  type SendOutcome,
  Unreachable,
} from '../../lib/store/device/index.ts';

/** A person with the sites they belong to, as the server tells it. */
export interface Me {
  readonly person: {
    readonly id: string;
    readonly name: string;
    readonly email: string;
    readonly administrator: boolean;
  };
  readonly sites: readonly {
    readonly id: string;
    readonly name: string;
    readonly roles: readonly RoleName[];
  }[];
}
export type RoleName = 'inspector' | 'reviewer' | 'lead';

/** An answer that refuses, as its problem. */
export class Refused extends Error {
  readonly problem: Problem;
  readonly status: number;
  constructor(status: number, why: Problem) {
    super(why.message);
    this.name = 'Refused';
    this.status = status;
    this.problem = why;
  }
}

/** The problem in a refusing answer; an answer that is no problem document becomes one. */
async function problemIn(response: Response): Promise<Problem> {
  const document: unknown = await response.json().catch(() => null);
  const of = (key: string): string => {
    const value =
      typeof document === 'object' && document !== null
        ? (document as Record<string, unknown>)[key]
        : undefined;
    return typeof value === 'string' ? value : '';
  };
  const message = of('detail') || of('message') || of('title') || `The server answered ${response.status}`;
  return problem(
    of('code') || `http-${response.status}`,
    of('field'),
    of('value'),
    message,
    of('wayOut') || 'Try again; if it stays, tell the administrator.',
  );
}

async function reach(path: string, init: RequestInit): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, { credentials: 'same-origin', cache: 'no-store', ...init });
  } catch {
    throw new Unreachable('No connection to the server');
  }
  if (response.status === 401) throw new Unreachable('Nobody is signed in', { signedOut: true });
  if (response.status >= 500 || response.status === 429)
    throw new Unreachable((await problemIn(response)).message, { busy: true });
  return response;
}

/** Calls the API with JSON. Throws `Unreachable` or `Refused`. */
export async function call<T>(method: string, path: string, body?: unknown): Promise<T> {
  const response = await reach(path, {
    method,
    ...(body === undefined
      ? {}
      : { body: JSON.stringify(body), headers: { 'Content-Type': 'application/json' } }),
  });
  if (!response.ok) throw new Refused(response.status, await problemIn(response));
  return (await response.json()) as T;
}

/** Entries as the device keeps them: what was sent, without the server's own members. */
export function plainEntries(entries: readonly Entry[]): Entry[] {
  return entries.map(({ id, site, subject, kind, v, at, author, device, body }) => ({
    id,
    site,
    subject,
    kind,
    v,
    at,
    author,
    device,
    body,
  }));
}

function photoPath(photo: DevicePhoto): string {
  return `/api/v1/photos/${photo.sha256}?site=${photo.site}`;
}

/** What a device holds of a whole site. */
export const REGISTER_SUBJECTS = ['site', 'wheel', 'component', 'instrument', 'table'] as const;

/** What a device fetches of a whole site. Readings in open studies are held back: see `useWholeStudy`. */
const FETCHED_SUBJECTS = [...REGISTER_SUBJECTS, 'study'] as const;

/** The server behind this page. */
export const remote: Remote = {
  async send(entries) {
    try {
      const { results } = await call<{ results: readonly SendOutcome[] }>('POST', '/api/v1/entries', {
        entries,
      });
      return results;
    } catch (error) {
      const [only, ...others] = entries;
      if (!(error instanceof Refused) || error.status !== 413 || only === undefined || others.length > 0) {
        throw error;
      }
      // An entry that the server will never take must not hold up those behind it.
      return [{ id: only.id, status: 'refused', problem: error.problem }];
    }
  },
  async photoOffset(photo) {
    const response = await reach(photoPath(photo), { method: 'HEAD' });
    if (!response.ok) return 0;
    if (response.headers.get('Upload-Complete') === '?1') return photo.blob.size;
    return Math.min(Number(response.headers.get('Upload-Offset') ?? 0), photo.blob.size - 1);
  },
  async sendPiece(photo, offset, piece): Promise<PieceOutcome> {
    const response = await reach(photoPath(photo), {
      method: 'PATCH',
      body: piece,
      headers: {
        'Content-Type': 'application/octet-stream',
        'Upload-Offset': String(offset),
        'Upload-Length': String(photo.blob.size),
        'Upload-Name': encodeURIComponent(photo.name),
      },
    });
    if (response.status === 409) {
      const document = (await response.json()) as { offset?: number };
      if (document.offset === undefined)
        throw new Unreachable('The photo is being written by another tab', { busy: true });
      return { status: 'more', offset: document.offset };
    }
    if (!response.ok) return { status: 'refused', problem: await problemIn(response) };
    const answer = (await response.json()) as { offset: number; facts?: unknown };
    return answer.facts !== undefined ? { status: 'complete' } : { status: 'more', offset: answer.offset };
  },
  async register(site, after) {
    const page = await call<{ entries: Entry[]; next: number; more: boolean }>(
      'GET',
      `/api/v1/entries?site=${site}&after=${after}&limit=1000&subjects=${FETCHED_SUBJECTS.join(',')}`,
    );
    return { entries: plainEntries(page.entries), next: page.next, more: page.more };
  },
};

/** What the server knows of a photo; null when it does not have it yet. */
export interface PhotoFacts {
  readonly widthPx: number;
  readonly heightPx: number;
  /** When the camera says it was taken, ISO 8601, local time where the camera wrote no zone; null when it says nothing. */
  readonly capturedAt: string | null;
}

/** Facts of a photo of a site. */
export async function fetchPhotoFacts(site: string, sha256: string): Promise<PhotoFacts | null> {
  const { ok, headers } = await reach(`/api/v1/photos/${sha256}?site=${site}`, { method: 'HEAD' });
  const [width, height] = [headers.get('Photo-Width'), headers.get('Photo-Height')];
  if (!ok || width === null || height === null) return null;
  return { widthPx: Number(width), heightPx: Number(height), capturedAt: headers.get('Photo-Captured') };
}

/** Note under which a device remembers what is kept from this person of an inspection. */
export function withheldNote(inspection: string): string {
  return `withheld ${inspection}`;
}

/** Fetches an inspection to the device, with the word of what is kept from this person for now. */
export async function keepInspection(store: DeviceStore, site: string, id: string): Promise<void> {
  const { entries, withheld } = await call<{ entries: Entry[]; withheld: Withheld | null }>(
    'GET',
    `/api/v1/subjects/inspection/${id}/entries?site=${site}`,
  );
  await store.setNote(withheldNote(id), withheld);
  await store.keep(plainEntries(entries));
}

/** Signs an entry with the password; what became of it. Throws `Unreachable` or `Refused`. */
export async function signEntry(password: string, entry: Entry): Promise<SendOutcome> {
  const { result } = await call<{ result: SendOutcome }>('POST', '/api/v1/signatures', { password, entry });
  return result;
}

/** Note under which a device remembers when it last fetched a wheel's book. */
export function bookNote(wheel: string): string {
  return `book ${wheel}`;
}

/** Fetches a wheel's book to the device, so that it is there without a connection. */
export async function keepBook(store: DeviceStore, site: string, wheel: string): Promise<void> {
  const { entries, withheld } = await fetchBook(site, wheel);
  await store.setNotes(withheld.map(([id, one]) => [withheldNote(id), one] as const));
  await store.keep(entries);
  await store.setNote(bookNote(wheel), new Date().toISOString());
}

const BOOK_OLD_MS = 6 * 3600 * 1000;
const BOOKS_AT_ONCE = 4;

/** Brings the books of a few wheels that were not fetched for long, so that in time the device has all of them. */
export async function fetchBooks(store: DeviceStore, site: string, wheels: readonly string[]): Promise<void> {
  let fetched = 0;
  for (const wheel of wheels) {
    const asOf = await store.note(bookNote(wheel));
    if (typeof asOf === 'string' && Date.now() - Date.parse(asOf) < BOOK_OLD_MS) continue;
    if (fetched >= BOOKS_AT_ONCE) return;
    fetched += 1;
    await keepBook(store, site, wheel);
  }
}

/** Everything about one wheel: itself, its components, its inspections. */
async function fetchBook(site: string, wheel: string) {
  const book = await call<{
    entries: Entry[];
    components: readonly { entries: Entry[] }[];
    inspections: readonly { id: string; entries: Entry[]; withheld: Withheld | null }[];
  }>('GET', `/api/v1/wheels/${wheel}/book?site=${site}`);
  return {
    entries: plainEntries([
      ...book.entries,
      ...book.components.flatMap((one) => one.entries),
      ...book.inspections.flatMap((one) => one.entries),
    ]),
    // Of the oldest inspections of a long book nothing was sent, so nothing is known of them.
    withheld: book.inspections
      .filter(({ entries, withheld }) => entries.length > 0 || withheld !== null)
      .map(({ id, withheld }) => [id, withheld] as const),
  };
}
