import type { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import { type Entry, type Kind, makeEntry } from '../../lib/record/index.ts';
import { randomFrom } from '../../sample-images/simple/noise.ts';
import type { DemoPart } from './people.ts';

const DAY_MS = 24 * 3600 * 1000;
const DEVICES: Readonly<Record<DemoPart, string>> = {
  administrator: 'demo-desk-0',
  lead: 'demo-desk-1',
  'inspector 1': 'demo-phone-1',
  'inspector 2': 'demo-phone-2',
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
  readonly random: () => number;
  #nowMs: number;

  constructor(setting: Setting, seed: number) {
    this.setting = setting;
    this.random = randomFrom(seed);
    this.#nowMs = Date.parse(`${setting.today}T00:00:00.000Z`);
  }

  /** Goes to a time of day, UTC, on the day `days` before today. */
  goTo(days: number, clock: string): void {
    this.#nowMs = Date.parse(`${dayBefore(this.setting.today, days)}T${clock}:00.000Z`);
  }

  /** Lets time pass. */
  wait(seconds: number): void {
    this.#nowMs += Math.round(seconds * 1000);
  }

  get now(): string {
    return new Date(this.#nowMs).toISOString();
  }

  /** A UUIDv7 of the present moment whose random part comes from the seed. */
  id(): string {
    const digits = (count: number) =>
      Array.from({ length: count }, () => Math.floor(this.random() * 16).toString(16)).join('');
    const time = this.#nowMs.toString(16).padStart(12, '0');
    const variant = '89ab'.charAt(Math.floor(this.random() * 4));
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
    this.wait(8 + this.random() * 30);
    return entry;
  }

  /** A number scattered round a mean as readings are: nearly normal, standard deviation `spread`. */
  scatter(mean: number, spread: number): number {
    return mean + (this.random() + this.random() + this.random() + this.random() - 2) * spread * Math.sqrt(3);
  }

  /** The last entry written. */
  get last(): Entry {
    return must(this.entries.at(-1), 'an entry of the demonstration');
  }
}
