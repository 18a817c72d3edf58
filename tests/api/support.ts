import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { closeServerContext, type ServerContext, serverContext } from '../../app/_server/context.ts';
import { contract } from '../../app/_server/contract/index.ts';
import type { RouteHandler } from '../../app/_server/route.ts';
import { must } from '../../lib/base/index.ts';
import type { Entry } from '../../lib/record/index.ts';
import { addPerson, addSite, type Role } from '../../lib/store/server/index.ts';

export const ORIGIN = 'http://localhost:3000';
export const PASSWORD = 'seven grey lorries uphill';
export const NORTH = '11111111-1111-4111-8111-111111111111';
export const SOUTH = '22222222-2222-4222-8222-222222222222';
export const WHEEL = '33333333-3333-4333-8333-333333333333';

/** Folder of the routes. */
export const API_FOLDER = join(import.meta.dirname, '..', '..', 'app', 'api');

/** File of the route of a contract path. */
export function routeFile(path: string): string {
  const folder = path
    .replace(/^\/api\//, '')
    .replace('{all}', '[...all]')
    .replace(/\{(\w+)\}/g, '[$1]');
  return join(API_FOLDER, folder, 'route.ts');
}

export interface Sent {
  readonly cookie?: string;
  readonly json?: unknown;
  readonly bytes?: Uint8Array;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Finds the route of an address as the framework would, and calls it with a request from our own origin. */
export async function send(method: string, address: string, sent: Sent = {}): Promise<Response> {
  const url = new URL(address, ORIGIN);
  for (const path of new Set(contract.map((operation) => operation.path))) {
    const names = [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1] ?? '');
    const pattern = path
      .replace('.', '\\.')
      .replace('{all}', '(.+)')
      .replace(/\{\w+\}/g, '([^/]+)');
    const match = new RegExp(`^${pattern}$`).exec(url.pathname);
    if (match === null) continue;
    const values = match.slice(1).map((value) => decodeURIComponent(value));
    const params = Object.fromEntries(
      names.map((name, i) => [name, name === 'all' ? (values[i] ?? '').split('/') : (values[i] ?? '')]),
    );
    const route = (await import(routeFile(path))) as Record<string, RouteHandler | undefined>;
    const handler = route[method];
    if (handler === undefined) return new Response(null, { status: 405 });
    return handler(requestOf(method, url, sent), { params: Promise.resolve(params) });
  }
  return new Response(null, { status: 404 });
}

function requestOf(method: string, url: URL, sent: Sent): Request {
  const headers = new Headers({ host: url.host });
  if (method !== 'GET' && method !== 'HEAD') headers.set('origin', ORIGIN);
  if (sent.json !== undefined) headers.set('content-type', 'application/json');
  if (sent.bytes !== undefined) headers.set('content-type', 'application/octet-stream');
  if (sent.cookie !== undefined) headers.set('cookie', sent.cookie);
  for (const [name, value] of Object.entries(sent.headers ?? {})) headers.set(name, value);
  const body = sent.bytes === undefined ? JSON.stringify(sent.json) : new Uint8Array(sent.bytes);
  return new Request(url, { method, headers, ...(body === undefined ? {} : { body }) });
}

/** Signs in and gives the session cookie. */
export async function signIn(email: string, password = PASSWORD): Promise<string> {
  const response = await send('POST', '/api/auth/sign-in/email', { json: { email, password } });
  if (response.status !== 200)
    throw new Error(`sign-in answered ${response.status}: ${await response.text()}`);
  return cookieOf(response);
}

export function cookieOf(response: Response): string {
  return response.headers
    .getSetCookie()
    .map((cookie) => cookie.split(';')[0])
    .join('; ');
}

/** Runs every test of the file against a server in a folder of its own. */
export function withServer(prepare: (context: ServerContext) => Promise<void> = async () => {}): void {
  let folder = '';
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'rimbook-api-'));
    process.env.RIMBOOK_DATA = folder;
    await prepare(await serverContext());
  });
  afterAll(async () => {
    await closeServerContext();
    delete process.env.RIMBOOK_DATA;
    rmSync(folder, { recursive: true, force: true });
  });
}

/** Two sites; Ada inspects and leads in the north, Sol inspects in the south, Root administers and belongs to neither. */
export async function twoSites(context: ServerContext): Promise<void> {
  const now = context.now();
  addSite(context.store, { id: NORTH, name: 'North pit', keepLocation: false, now });
  addSite(context.store, { id: SOUTH, name: 'South pit', keepLocation: false, now });
  const passwordHash = await context.accounts.hash(PASSWORD);
  const people: ReadonlyArray<readonly [string, boolean, ReadonlyArray<readonly [string, readonly Role[]]>]> =
    [
      ['ada', false, [[NORTH, ['inspector', 'lead']]]],
      ['sol', false, [[SOUTH, ['inspector']]]],
      ['root', true, []],
    ];
  for (const [id, administrator, roles] of people) {
    const made = addPerson(context.store, {
      id,
      name: id.toUpperCase(),
      email: `${id}@rims.example`,
      administrator,
      passwordHash,
      roles: roles.map(([site, names]) => ({ site, roles: names })),
      now,
    });
    if (!made.ok) throw new Error(made.error.message);
  }
}

/** People of the north by id, each with roles there. */
export async function addPeople(
  context: ServerContext,
  people: ReadonlyArray<readonly [id: string, roles: readonly Role[]]>,
): Promise<void> {
  const passwordHash = await context.accounts.hash(PASSWORD);
  for (const [id, roles] of people) {
    const made = addPerson(context.store, {
      id,
      name: id,
      email: `${id}@rims.example`,
      administrator: false,
      passwordHash,
      roles: [{ site: NORTH, roles }],
      now: context.now(),
    });
    if (!made.ok) throw new Error(made.error.message);
  }
}

/** What became of one entry that was sent. */
export interface Outcome {
  readonly id: string;
  readonly status: string;
  readonly seq?: number;
  readonly problem?: Readonly<Record<string, string>>;
}

/** Sends entries in one batch and gives what became of each; throws when the batch as a whole is refused. */
export async function append(cookie: string, entries: readonly unknown[]): Promise<readonly Outcome[]> {
  const response = await send('POST', '/api/v1/entries', { cookie, json: { entries } });
  if (response.status !== 200) throw new Error(`${response.status}: ${await response.text()}`);
  return ((await response.json()) as { results: readonly Outcome[] }).results;
}

/** Signs people of `withServer` in before the tests of the file; their cookies, and entries sent that must be stored. */
export function signedIn(...people: readonly string[]) {
  const cookies = new Map<string, string>();
  beforeAll(async () => {
    for (const who of people) cookies.set(who, await signIn(`${who}@rims.example`));
  });
  const cookie = (who: string) => must(cookies.get(who), who);
  return {
    cookie,
    async stored(who: string, ...entries: Entry[]): Promise<void> {
      for (const outcome of await append(cookie(who), entries))
        expect(outcome).toMatchObject({ status: 'stored' });
    },
  };
}

/** Signs with the password entered again and gives what became of the entry. */
export async function sign(cookie: string, entry: unknown, password = PASSWORD): Promise<Outcome> {
  const response = await send('POST', '/api/v1/signatures', { cookie, json: { password, entry } });
  if (response.status !== 200) throw new Error(`${response.status}: ${await response.text()}`);
  return ((await response.json()) as { result: Outcome }).result;
}

let serial = 0;

/** An entry of Ada's in the north, about an inspection of `WHEEL`. */
export function anEntry(changes: Partial<Entry> = {}): Entry {
  serial += 1;
  return {
    id: `019b0000-0000-7000-8000-${serial.toString(16).padStart(12, '0')}`,
    site: NORTH,
    subject: { type: 'inspection', id: '44444444-4444-4444-8444-444444444444' },
    kind: 'note',
    v: 1,
    at: '2026-05-04T07:59:00.000Z',
    author: 'ada',
    device: 'phone',
    body: { text: `note ${serial}`, wheel: WHEEL },
    ...changes,
  };
}

/** The problem document of a response, after checking its form. */
export async function problemOf(response: Response): Promise<Record<string, unknown>> {
  if (response.headers.get('content-type') !== 'application/problem+json') {
    throw new Error(
      `${response.status} came as ${response.headers.get('content-type')}: ${await response.text()}`,
    );
  }
  const document = (await response.json()) as Record<string, unknown>;
  for (const member of ['type', 'title', 'detail', 'code', 'field', 'value', 'wayOut']) {
    if (typeof document[member] !== 'string') throw new Error(`the problem lacks ${member}`);
  }
  if (document.status !== response.status) throw new Error('the problem names another status');
  return document;
}
