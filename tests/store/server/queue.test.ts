import { describe, expect, it } from 'vitest';
import { must } from '../../../lib/base/index.ts';
import {
  bringUpToDate,
  type InspectionLine,
  openStore,
  type QueueQuery,
  readQueue,
  type Store,
  takeHold,
  verifyChains,
  withoutResults,
} from '../../../lib/store/server/index.ts';
import {
  appendAll,
  inspectionId,
  makeEntry,
  project,
  SITE,
  temporaryFolder,
  temporaryStore,
} from './support.ts';

const NOW = '2026-03-01T00:00:00.000Z';

/** Fills the queue with lines that differ in everything it is asked by. */
function fill(store: Store, count: number): void {
  const insert = store.sqlite.prepare(
    `INSERT INTO projection_inspection (site, id, wheel, tag, status, inspector, inspector_name, submitted_at,
       waiting_since, provisional, rank, result, energy_class, assigned_to, reviewer, concluded_at, entry_count, body)
     VALUES (?, ?, ?, 't', ?, 'i', 'n', ?, ?, 1, ?, ?, ?, ?, NULL, NULL, 1, '{}')`,
  );
  store.sqlite.transaction(() => {
    for (let n = 0; n < count; n += 1) {
      const submitted =
        n % 10 === 0 ? '' : `2026-01-${String(1 + ((n * 7) % 28)).padStart(2, '0')}T00:00:00.000Z`;
      insert.run(
        SITE,
        inspectionId(n),
        inspectionId(n % 40),
        n % 2 === 0 ? 'submitted' : 'open',
        submitted,
        submitted,
        (n * 31) % 50,
        ['keep', 'hold', 'repair', 'scrap'][n % 4] ?? null,
        1 + (n % 4),
        n % 3 === 0 ? null : ['ann', 'bob'][n % 2],
      );
    }
  })();
}

/** Every line that a query gives, page by page, and the slowest page, ms. */
function allOf(store: Store, query: Omit<QueueQuery, 'site' | 'now' | 'limit'>, limit = 200) {
  const lines: InspectionLine[] = [];
  let cursor: string | undefined;
  let slowestMs = 0;
  do {
    const began = performance.now();
    const page = readQueue(store, {
      site: SITE,
      now: NOW,
      limit,
      ...query,
      ...(cursor === undefined ? {} : { cursor }),
    });
    slowestMs = Math.max(slowestMs, performance.now() - began);
    if (!page.ok) throw new Error(page.error.message);
    lines.push(...page.value.inspections);
    cursor = page.value.cursor ?? undefined;
  } while (cursor !== undefined);
  return { lines, slowestMs };
}

const inOrder = (lines: readonly InspectionLine[]) =>
  [...lines].sort(
    (a, b) =>
      (b.rank ?? 0) - (a.rank ?? 0) ||
      (a.submittedAt ?? '').localeCompare(b.submittedAt ?? '') ||
      (a.id < b.id ? -1 : 1),
  );

describe('the queue', () => {
  it('gives every inspection once, the highest rank first, then the longest waiting', () => {
    const store = temporaryStore();
    fill(store, 20_000);
    const { lines, slowestMs } = allOf(store, { status: 'submitted' });
    expect(lines).toHaveLength(10_000);
    expect(new Set(lines.map(({ id }) => id)).size).toBe(10_000);
    expect(lines).toEqual(inOrder(lines));
    expect(slowestMs).toBeLessThan(250);
  });

  const filters: [name: string, query: Partial<QueueQuery>, fits: (line: InspectionLine) => boolean][] = [
    ['status', { status: 'open' }, (line) => line.status === 'open'],
    ['a person', { assignedTo: 'ann' }, (line) => line.assignedTo === 'ann'],
    ['nobody', { assignedTo: null }, (line) => line.assignedTo === null],
    [
      'wheels',
      { wheels: [inspectionId(3), inspectionId(5)] },
      (line) => [inspectionId(3), inspectionId(5)].includes(line.wheel),
    ],
    ['energy', { energyClass: 4 }, (line) => line.energyClass === 4],
    ['result', { result: 'scrap' }, (line) => line.result === 'scrap'],
    [
      'waiting',
      { waitingSince: '2026-01-10T00:00:00.000Z' },
      (line) => line.waitingSince !== null && line.waitingSince <= '2026-01-10T00:00:00.000Z',
    ],
    [
      'all of them together',
      { status: 'submitted', assignedTo: 'ann', energyClass: 3, waitingSince: '2026-01-20T00:00:00.000Z' },
      (line) =>
        line.status === 'submitted' &&
        line.assignedTo === 'ann' &&
        line.energyClass === 3 &&
        line.waitingSince !== null &&
        line.waitingSince <= '2026-01-20T00:00:00.000Z',
    ],
  ];
  it.each(filters)('narrowed by %s is what a slow search gives, in the same order', (_name, query, fits) => {
    const store = temporaryStore();
    fill(store, 600);
    const found = allOf(store, query, 7).lines;
    const slow = inOrder(allOf(store, {}).lines.filter(fits));
    expect(found.length).toBeGreaterThan(3);
    expect(found.map(({ id }) => id)).toEqual(slow.map(({ id }) => id));
  });

  it('finds its pages by index, without sorting and without reading whole lines, whatever is asked', () => {
    const store = temporaryStore();
    for (const [, query] of filters) {
      const seen: string[] = [];
      const spying: Store = {
        ...store,
        all: (asked) => {
          const { sql, parameters } = asked.compile();
          if (sql.includes('limit')) {
            const plan = store.sqlite.prepare(`EXPLAIN QUERY PLAN ${sql}`).all(...parameters);
            seen.push(...plan.map((row) => (row as { detail: string }).detail));
          }
          return store.all(asked);
        },
      };
      readQueue(spying, { site: SITE, now: NOW, limit: 50, ...query });
      const plan = seen.join('; ');
      expect(plan).toMatch(/COVERING INDEX queue_by_(status|site)/);
      expect(plan).not.toContain('TEMP B-TREE');
    }
  });

  it('reads on from an id that says nothing of the place, also after that line has moved', () => {
    const store = temporaryStore();
    fill(store, 60);
    const first = readQueue(store, { site: SITE, now: NOW, limit: 5 });
    if (!first.ok) throw new Error(first.error.message);
    const last = must(first.value.inspections.at(-1), 'a last line');
    expect(first.value.cursor).toBe(last.id);
    store.sqlite.prepare('UPDATE projection_inspection SET rank = 0 WHERE id = ?').run(last.id);
    const next = readQueue(store, { site: SITE, now: NOW, limit: 100, cursor: last.id });
    expect(next.ok && next.value.inspections.every((line) => (line.rank ?? 1) <= 0)).toBe(true);
  });

  it.each(['', 'x', "1~~' OR 1=1 --", inspectionId(9)])('refuses "%s", which is no line of it', (cursor) => {
    const page = readQueue(temporaryStore(), { site: SITE, now: NOW, limit: 5, cursor });
    expect(page).toMatchObject({ ok: false, error: { code: 'queue-cursor', field: 'cursor' } });
  });

  it('says who looks at an inspection, until the hold expires', () => {
    const store = temporaryStore();
    fill(store, 3);
    expect(takeHold(store, { site: SITE, inspection: inspectionId(1), person: 'ann', now: NOW }).ok).toBe(
      true,
    );
    const heldAt = (now: string) => {
      const page = readQueue(store, { site: SITE, now, limit: 5 });
      if (!page.ok) throw new Error(page.error.message);
      return page.value.inspections.filter(({ heldBy }) => heldBy !== null);
    };
    expect(heldAt('2026-03-01T00:09:59.999Z')).toMatchObject([
      { id: inspectionId(1), heldBy: 'ann', heldUntil: '2026-03-01T00:10:00.000Z' },
    ]);
    expect(heldAt('2026-03-01T00:10:00.000Z')).toEqual([]);
  });
});

describe('a line for somebody who may not know the results yet', () => {
  it('keeps what the inspector did and when, and nothing of what was found', () => {
    const line: InspectionLine = {
      id: 'i',
      site: SITE,
      wheel: 'w',
      tag: 't',
      status: 'submitted',
      inspector: 'ada',
      inspectorName: '',
      submittedAt: NOW,
      waitingSince: NOW,
      provisional: true,
      rank: 512_345,
      result: 'scrap',
      energyClass: 4,
      assignedTo: null,
      reviewer: null,
      concludedAt: null,
      entryCount: 9,
      body: {
        reason: 'yearly',
        results: [{ slot: 'rim base', result: 'scrap' }],
        settled: [],
        outcome: null,
        why: 'scrap: rim base',
        marginPoints: 20,
        energy: 'Stored energy very large',
        photos: 3,
        readings: 4,
        late: 0,
        inspectors: ['ada'],
        demonstration: true,
        'a member nobody thought of': 'scrap',
      },
    };
    const told = withoutResults(line);
    expect(Object.keys(line).filter((key) => !(key in told))).toEqual(['rank', 'result']);
    expect(told.body).toEqual({
      reason: 'yearly',
      energy: 'Stored energy very large',
      photos: 3,
      readings: 4,
      late: 0,
      inspectors: ['ada'],
      demonstration: true,
    });
    expect(JSON.stringify(told)).not.toMatch(/scrap|512345/);
    expect(line.body.why).toBe('scrap: rim base');
  });
});

describe('lists made by another projector', () => {
  it('and in the shape before this one are there again after the opening, with the entries untouched', () => {
    const folder = temporaryFolder();
    const before = openStore(folder);
    appendAll(before, makeEntry(1), makeEntry(2));
    before.sqlite.exec(`
      DROP TABLE projection_inspection; DROP TABLE projection_made; DROP TABLE review_hold;
      CREATE TABLE projection_inspection (site TEXT, id TEXT, danger INTEGER);
      INSERT INTO projection_inspection VALUES ('${SITE}', '${inspectionId(1)}', 7);
      DROP TABLE projection_pair; DROP TABLE projection_history;
      PRAGMA user_version = 2`);
    before.close();
    const store = temporaryStore(folder);
    expect(bringUpToDate(store, project, 'first')).toBe(1);
    expect(allOf(store, {}).lines).toMatchObject([{ id: inspectionId(1), rank: 2, entryCount: 2 }]);
    expect(verifyChains(store).faults).toEqual([]);
  });

  it('are derived again at the opening, once', () => {
    const store = temporaryStore();
    appendAll(store, makeEntry(1));
    store.sqlite.exec('DELETE FROM projection_inspection');
    expect(bringUpToDate(store, project, 'first')).toBe(1);
    const lines = () => allOf(store, {}).lines.map(({ id }) => id);
    expect(lines()).toEqual([inspectionId(1)]);
    store.sqlite.exec('DELETE FROM projection_inspection');
    expect(bringUpToDate(store, project, 'first')).toBeNull();
    expect(lines()).toEqual([]);
    expect(bringUpToDate(store, project, 'second')).toBe(1);
    expect(lines()).toEqual([inspectionId(1)]);
  });
});
