import type { DemoLog } from './log.ts';

/** Something that happens on a day before today at a time of day; what it brings about may be planned while it runs. */
interface Act {
  readonly days: number;
  readonly clock: string;
  readonly order: number;
  run(): void;
}

/** What is to happen, told in the order of time whatever the order it was planned in. */
export class Agenda {
  readonly #log: DemoLog;
  #acts: Act[] = [];
  #planned = 0;

  constructor(log: DemoLog) {
    this.#log = log;
  }

  plan(days: number, clock: string, run: () => void): void {
    this.#planned += 1;
    this.#acts.push({ days, clock, order: this.#planned, run });
  }

  /** Tells everything; acts of one moment in the order they were planned. */
  tell(): void {
    while (this.#acts.length > 0) {
      const next = this.#acts.reduce((first, one) => (isEarlier(one, first) ? one : first));
      this.#acts = this.#acts.filter((one) => one !== next);
      this.#log.goTo(next.days, next.clock);
      next.run();
    }
  }
}

function isEarlier(a: Act, b: Act): boolean {
  if (a.days !== b.days) return a.days > b.days;
  return a.clock === b.clock ? a.order < b.order : a.clock < b.clock;
}
