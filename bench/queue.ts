import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { closeServerContext, serverContext } from '../app/_server/context.ts';
import type { RouteHandler } from '../app/_server/route.ts';
import { POST as authenticate } from '../app/api/auth/[...all]/route.ts';
import { GET as queue } from '../app/api/v1/queue/route.ts';
import { must, uniformFrom } from '../lib/base/index.ts';
import { rankOf } from '../lib/review/index.ts';
import { addPerson, addSite, type Store } from '../lib/store/server/index.ts';
import { wheelEnergy } from '../lib/wheel/index.ts';

/**
 * Time on the server from a request for the first page of the queue to its answer, through the route with its checks, with
 * 20 000 inspections waiting; beside it the same rows by bare SQL. One run, made-up lines of the length of real ones.
 */
const WAITING = 20_000;
const WHEELS = 1200;
const ROUNDS = 21;
const MS_MAX = 300;
const PAGE = 50;
const ORIGIN = 'http://localhost:3000';
const PASSWORD = 'seven grey lorries uphill';
const SITE = randomUUID();
const SIZES = ['25-14.00/1.5', '25-22.00/3.0', '49-19.50/4.0', '57-29.00/6.0', 'not legible'];
const SLOTS = ['rim base', 'lock ring', 'bead seat band', 'outboard flange', 'inboard flange', 'O-ring'];
const RESULTS = ['keep', 'hold', 'repair', 'scrap'] as const;

const next = uniformFrom(20_000);
const pick = <T>(list: readonly T[]): T => must(list[Math.floor(next() * list.length)], 'a choice');
const wheels = Array.from({ length: WHEELS }, () => randomUUID());
const wheelList = wheels.slice(0, 12);

function bodyOf(energy: string, results: readonly string[]): string {
  return JSON.stringify({
    reason: 'yearly inspection',
    results: SLOTS.map((slot, i) => ({ slot, result: results[i] })),
    settled: [],
    outcome: null,
    why: `${results[0]}: rim base; gutter depth 2.1 standard uncertainties beyond its limit; large stored energy`,
    marginPoints: 12,
    energy,
    photos: 24,
    readings: 61,
    late: 0,
    inspectors: ['person-1', 'person-2'],
    demonstration: true,
  });
}

/** Lines of inspections that wait, submitted over the last 90 days. */
function fill(store: Store, now: number): void {
  const columns = `site, id, wheel, tag, status, inspector, inspector_name, submitted_at, waiting_since, provisional,
    rank, result, energy_class, assigned_to, reviewer, concluded_at, entry_count, body`;
  const insert = store.sqlite.prepare(
    `INSERT INTO projection_inspection (${columns}) VALUES (${columns.split(',').map(() => '?')})`,
  );
  store.sqlite.transaction(() => {
    for (let n = 0; n < WAITING; n += 1) {
      const at = new Date(now - Math.floor(next() * 90 * 86_400_000)).toISOString();
      const results = SLOTS.map(() => pick(RESULTS));
      const energy = wheelEnergy(pick(SIZES), 700);
      const rank = rankOf(Math.floor(next() * 6), Math.floor(next() * 40), at);
      const line = [pick(wheels), '4K7-P3F', 'submitted', 'person-1', '', at, at, 1, rank, pick(results)];
      const given = next() < 0.5 ? null : `person-${Math.floor(next() * 8)}`;
      const body = bodyOf(energy.sentence, results);
      insert.run(SITE, randomUUID(), ...line, energy.energyClass, given, null, null, 130, body);
    }
  })();
}

/** What is asked of the queue, and the same in bare SQL. */
const ASKED: Readonly<Record<string, readonly [query: string, sql: string]>> = {
  all: ['', ''],
  waiting: ['&status=submitted', `AND status = 'submitted'`],
  mine: ['&status=submitted&assigned=me', `AND status = 'submitted' AND assigned_to = 'person-3'`],
  nobody: ['&status=submitted&assigned=nobody', `AND status = 'submitted' AND assigned_to IS NULL`],
  machine: [
    `&status=submitted&wheels=${wheelList.join()}`,
    `AND status = 'submitted' AND wheel IN (${wheelList.map((id) => `'${id}'`)})`,
  ],
  energy: ['&status=submitted&energy=4', `AND status = 'submitted' AND energy_class = 4`],
  waitingDays: [
    '&status=submitted&waitingDays=60',
    `AND status = 'submitted' AND waiting_since <= strftime('%Y-%m-%dT%H:%M:%fZ', 'now', '-60 days')`,
  ],
  result: ['&status=submitted&result=scrap', `AND status = 'submitted' AND result = 'scrap'`],
  together: [
    `&status=submitted&assigned=me&energy=4&waitingDays=30&wheels=${wheelList.join()}`,
    `AND status = 'submitted' AND assigned_to = 'person-3' AND energy_class = 4
     AND waiting_since <= strftime('%Y-%m-%dT%H:%M:%fZ', 'now', '-30 days') AND wheel IN (${wheelList.map((id) => `'${id}'`)})`,
  ],
  nothingFound: [
    '&status=submitted&assigned=nobody-at-all',
    `AND status = 'submitted' AND assigned_to = 'x'`,
  ],
};

/** A handler's answer to a request from our own origin. */
function ask(handler: RouteHandler, path: string, init: RequestInit, params = {}): Promise<Response> {
  const headers = { host: new URL(ORIGIN).host, origin: ORIGIN, ...init.headers };
  return handler(new Request(new URL(path, ORIGIN), { ...init, headers }), {
    params: Promise.resolve(params),
  });
}

async function signIn(): Promise<string> {
  const response = await ask(
    authenticate as RouteHandler,
    '/api/auth/sign-in/email',
    {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email: 'lead@rims.example', password: PASSWORD }),
    },
    { all: ['sign-in', 'email'] },
  );
  if (response.status !== 200) throw new Error(`sign-in answered ${response.status}`);
  return response.headers
    .getSetCookie()
    .map((cookie) => cookie.split(';')[0])
    .join('; ');
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

/** Median and slowest of some rounds, ms; the first warms up. */
async function timed(work: () => Promise<void> | void) {
  const ms: number[] = [];
  for (let round = 0; round <= ROUNDS; round += 1) {
    const began = performance.now();
    await work();
    if (round > 0) ms.push(performance.now() - began);
  }
  return { median: median(ms), slowest: Math.max(...ms) };
}

const folder = mkdtempSync(join(tmpdir(), 'rimbook-bench-'));
process.env.RIMBOOK_DATA = folder;
try {
  const { store, now, accounts } = await serverContext();
  addSite(store, { id: SITE, name: 'Bench', keepLocation: false, now: now() });
  const passwordHash = await accounts.hash(PASSWORD);
  const roles = [{ site: SITE, roles: ['lead'] as const }];
  const lead = { id: 'person-3', name: 'Lead', email: 'lead@rims.example', administrator: false };
  const made = addPerson(store, { ...lead, passwordHash, roles, now: now() });
  if (!made.ok) throw new Error(made.error.message);
  fill(store, Date.parse(now()));
  const cookie = await signIn();
  for (const [name, [query, sql]] of Object.entries(ASKED)) {
    let found = 0;
    const own = await timed(async () => {
      const path = `/api/v1/queue?site=${SITE}&limit=${PAGE}${query}`;
      const response = await ask(queue, path, { headers: { cookie } });
      const answer = (await response.json()) as { inspections: readonly unknown[] };
      if (response.status !== 200) throw new Error(JSON.stringify(answer));
      found = answer.inspections.length;
    });
    const bare = store.sqlite.prepare(
      `SELECT * FROM projection_inspection WHERE site = ? ${sql} ORDER BY rank DESC, submitted_at, id LIMIT ${PAGE + 1}`,
    );
    const floor = await timed(() => void bare.all(SITE));
    console.log(
      JSON.stringify({
        bench: 'queue',
        asked: name,
        waiting: WAITING,
        found,
        ms: Number(own.median.toFixed(1)),
        slowestMs: Number(own.slowest.toFixed(1)),
        bareSqlMs: Number(floor.median.toFixed(2)),
        ratio: Number((own.median / floor.median).toFixed(1)),
        msMax: MS_MAX,
      }),
    );
    if (own.slowest > MS_MAX) process.exitCode = 1;
  }
} finally {
  await closeServerContext();
  rmSync(folder, { recursive: true, force: true });
}
