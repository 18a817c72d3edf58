import type { z } from 'zod';
import type { Kind } from '../../lib/record/index.ts';
import { type Entry, type EntryContext, makeEntry } from '../../lib/record/index.ts';

/** A UUIDv7-shaped id from small numbers: time in ms since `EPOCH`, and a running number. */
export function testId(ms: number, n: number): string {
  const time = (1_790_000_000_000 + ms).toString(16).padStart(12, '0');
  return `${time.slice(0, 8)}-${time.slice(8)}-7000-8000-${n.toString(16).padStart(12, '0')}`;
}

/** A fixed id for a named thing. */
export function thing(n: number): string {
  return `00000000-0000-4000-8000-${n.toString(16).padStart(12, '0')}`;
}

export const SITE = thing(1);
export const WHEEL = thing(2);
export const INSPECTION = thing(3);
export const BASE = thing(10);
export const RING = thing(11);

export function at(ms: number): string {
  return new Date(1_790_000_000_000 + ms).toISOString();
}

/** What a description of a part says beside maker, series and stamp, where a test does not care. */
export const STAMPS = {
  partNumber: '',
  serial: '',
  dateCode: '',
  made: { how: 'unknown' as const },
  stampPhoto: null,
  identity: 'identified' as const,
};
/** What a fitting and a removal say beside the place, where a test does not care. */
export const FITTING = { on: null, machine: null, machineHours: null, partHours: null };
export const REMOVAL = { on: null, machineHours: null };

/** A reading of a gutter depth at three o'clock, typed in mm, no instrument named; the test says of which component. */
export const depthBody = (reading: string, component: string, valueMm: number) => ({
  reading,
  component,
  characteristic: 'gutter depth' as const,
  zone: 'gutter groove' as const,
  clock: 3,
  state: null,
  typed: `${valueMm}`,
  defaultUnit: 'mm' as const,
  valueMm,
  instrument: null,
  repeat: 1,
  confirmed: false,
  overlap: false,
});

let running = 0;

/** An entry at `ms` by `author` on `device`. */
export function entry<B extends z.ZodType>(
  kind: Kind<B>,
  subject: string,
  body: z.input<B>,
  over: Partial<EntryContext> & { ms?: number } = {},
): Entry {
  running += 1;
  const ms = over.ms ?? running * 1000;
  return makeEntry(kind, subject, body, {
    id: testId(ms, running),
    site: SITE,
    at: at(ms),
    author: 'inspector-1',
    device: 'phone-1',
    ...over,
  });
}
