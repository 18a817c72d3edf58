import type { z } from 'zod';
import { assert } from '../../lib/base/index.ts';
import {
  type Entry,
  foldInspection,
  foldRegister,
  type InspectionState,
  type Kind,
  makeEntry,
  type RegisterState,
} from '../../lib/record/index.ts';
import { foldTables, type TablesOnFile } from '../../lib/tolerances/index.ts';
import type { DemoPart } from './people.ts';
import { type Chance, chanceFrom } from './random.ts';

const DAY_MS = 24 * 3600 * 1000;
/** How far work may run into the time planned for the next. */
const OVERRUN_MS_MAX = 90 * 60 * 1000;
const DEVICES: Readonly<Record<DemoPart, string>> = {
  administrator: 'demo-desk-0',
  lead: 'demo-desk-1',
  'inspector 1': 'demo-phone-1',
  'inspector 2': 'demo-phone-2',
  'inspector 3': 'demo-phone-3',
  'reviewer 1': 'demo-desk-2',
  'reviewer 2': 'demo-desk-3',
};

/** Where the demonstration is told: the ids that the server gave, and the day that counts as today. */
export interface Setting {
  readonly site: string;
  readonly people: Readonly<Record<DemoPart, string>>;
  /** ISO date. Everything happened on days before it, so that due dates lie as the story needs them. */
  readonly today: string;
}

/** The day `days` before `today`, ISO date. */
export function dayBefore(today: string, days: number): string {
  return new Date(Date.parse(`${today}T00:00:00.000Z`) - days * DAY_MS).toISOString().slice(0, 10);
}

/** Writes the demonstration's entries one after the other. The same setting gives the same bytes. */
export class DemoLog {
  readonly entries: Entry[] = [];
  readonly setting: Setting;
  readonly #chance: Chance;
  readonly #inspections = new Map<string, Entry[]>();
  readonly #registerEntries: Entry[] = [];
  #register: RegisterState | null = null;
  #tables: TablesOnFile | null = null;
  #nowMs = 0;

  constructor(setting: Setting, seed: number) {
    this.setting = setting;
    this.#chance = chanceFrom(seed);
  }

  /** Goes on to a time of day, UTC, on the day `days` before today; what runs over begins a little later. */
  goTo(days: number, clock: string): void {
    const planned = Date.parse(`${dayBefore(this.setting.today, days)}T${clock}:00.000Z`);
    const overrun = this.#nowMs - planned;
    assert(overrun <= OVERRUN_MS_MAX, `work of day ${days}, ${clock} begins ${overrun} ms after the last`);
    this.#nowMs = Math.max(planned, this.#nowMs);
  }

  /** Lets time pass. */
  wait(seconds: number): void {
    this.#nowMs += Math.round(seconds * 1000);
  }

  get now(): string {
    return new Date(this.#nowMs).toISOString();
  }

  /** Days from now to today, with its part of a day. */
  get days(): number {
    return (Date.parse(`${this.setting.today}T00:00:00.000Z`) - this.#nowMs) / DAY_MS;
  }

  /** A UUIDv7 of the present moment whose random part comes from the seed. */
  id(): string {
    const digits = (count: number) =>
      Array.from({ length: count }, () => this.#chance.below(16).toString(16)).join('');
    const time = this.#nowMs.toString(16).padStart(12, '0');
    const variant = '89ab'.charAt(this.#chance.below(4));
    return `${time.slice(0, 8)}-${time.slice(8)}-7${digits(3)}-${variant}${digits(3)}-${digits(12)}`;
  }

  /** Writes an entry now, and lets a few seconds pass. */
  write<Body extends z.ZodType>(kind: Kind<Body>, subject: string, body: z.input<Body>, by: DemoPart): Entry {
    const { site, people } = this.setting;
    const entry = makeEntry(kind, subject, body, {
      id: this.id(),
      site,
      at: this.now,
      author: people[by],
      device: DEVICES[by],
    });
    this.entries.push(entry);
    if (entry.subject.type === 'inspection') {
      this.#inspections.set(subject, [...(this.#inspections.get(subject) ?? []), entry]);
    } else {
      this.#registerEntries.push(entry);
      this.#register = null;
      this.#tables = null;
    }
    this.wait(6 + this.#chance.next() * 24);
    return entry;
  }

  /** What has been written of an inspection so far. */
  inspection(id: string): InspectionState {
    return foldInspection(this.#inspections.get(id) ?? []);
  }

  /** What has been written of everything else so far. */
  get register(): RegisterState {
    this.#register ??= foldRegister(this.#registerEntries);
    return this.#register;
  }

  /** Tolerance tables written so far. */
  get tables(): TablesOnFile {
    this.#tables ??= foldTables(this.#registerEntries);
    return this.#tables;
  }
}
