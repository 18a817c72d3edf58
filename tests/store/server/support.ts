import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Entry } from '../../../lib/record/index.ts';
import {
  type AppendOptions,
  append,
  type Outcome,
  openStore,
  type Projector,
  type Store,
} from '../../../lib/store/server/index.ts';

export const SITE = '11111111-1111-4111-8111-111111111111';
export const OTHER_SITE = '22222222-2222-4222-8222-222222222222';
export const WHEEL = '33333333-3333-4333-8333-333333333333';
export const RECEIVED_AT = '2026-05-04T08:00:00.000Z';

/** A UUIDv7 numbered by `n`, so that tests read alike each time. */
function entryId(n: number): string {
  return `019a0000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`;
}

/** An inspection's id numbered by `n`. */
export function inspectionId(n: number): string {
  return `44444444-4444-4444-8444-${n.toString(16).padStart(12, '0')}`;
}

export function makeEntry(n: number, changes: Partial<Entry> = {}): Entry {
  return {
    id: entryId(n),
    site: SITE,
    subject: { type: 'inspection', id: inspectionId(1) },
    kind: 'note',
    v: 1,
    at: '2026-05-04T07:59:00.000Z',
    author: 'ada',
    device: 'phone',
    body: { text: `note ${n}`, wheel: WHEEL },
    ...changes,
  };
}

/** The rank is the number of notes; the wheel is the one named last. */
export const project: Projector = (subject, entries) => {
  const wheels = entries.flatMap(({ body }) => (typeof body.wheel === 'string' ? [body.wheel] : []));
  const wheel = wheels.at(-1);
  if (subject.type !== 'inspection' || wheel === undefined) return { wheels };
  return {
    wheels,
    inspection: {
      wheel,
      tag: '4K7-P3Q',
      status: entries.some((entry) => entry.kind === 'submit') ? 'submitted' : 'open',
      inspector: entries[0]?.author ?? '',
      inspectorName: 'Ada',
      submittedAt: entries.find((entry) => entry.kind === 'submit')?.at ?? null,
      waitingSince: entries.find((entry) => entry.kind === 'submit')?.at ?? null,
      provisional: false,
      rank: entries.length,
      result: null,
      energyClass: null,
      assignedTo: null,
      reviewer: null,
      concludedAt: null,
      body: { kinds: entries.map((entry) => entry.kind) },
    },
  };
};

export const options: AppendOptions = {
  receivedAt: RECEIVED_AT,
  accept: () => ({ ok: true, value: undefined }),
  project,
};

export function appendAll(store: Store, ...entries: Entry[]): Outcome[] {
  return append(store, entries, options);
}

/** A folder that is removed after the test. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'rimbook-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** An open store in a folder of its own, closed and removed after the test. */
export function temporaryStore(folder = temporaryFolder()): Store {
  const store = openStore(folder);
  onTestFinished(() => store.close());
  return store;
}
