import { problem } from '../../lib/base/index.ts';
import { type Refusal, refuse } from './problems.ts';

/** Passwords tried in vain per account (behind a trusted proxy: per address) and minute before the next is refused. */
export const ATTEMPTS_PER_MINUTE_MAX = 8;
/** The same for all addresses together that belong to no account. */
export const UNKNOWN_PER_MINUTE_MAX = 60;

const WINDOW_MS = 60_000;
/** Counts beyond this many are cleared of those that are over. */
const COUNTS_MAX = 1000;

interface Count {
  readonly endsAt: number;
  tries: number;
}

/** Counts of tried passwords by key, for a minute from the first. Kept in memory: a flood leaves nothing behind. */
export class Attempts {
  readonly #counts = new Map<string, Count>();

  /** Counts one more try; seconds to wait when it is one too many, 0 when it may be made. */
  take(key: string, triesMax: number, nowMs: number): number {
    if (this.#counts.size >= COUNTS_MAX) this.#clear(nowMs);
    const known = this.#counts.get(key);
    if (known === undefined || known.endsAt <= nowMs) {
      this.#counts.set(key, { endsAt: nowMs + WINDOW_MS, tries: 1 });
      return 0;
    }
    if (known.tries >= triesMax) return Math.ceil((known.endsAt - nowMs) / 1000);
    known.tries += 1;
    return 0;
  }

  /** Starts a count anew. */
  forget(key: string): void {
    this.#counts.delete(key);
  }

  #clear(nowMs: number): void {
    for (const [key, count] of this.#counts) if (count.endsAt <= nowMs) this.#counts.delete(key);
  }
}

/** The count of a signed-in person's tries at their own password, whatever it is asked for. */
export function passwordTries(person: string): string {
  return `password ${person}`;
}

/** The refusal of a try that has to wait. */
export function tooOften(seconds: number): Refusal {
  return refuse(
    429,
    problem('sign-in-often', '', '', 'Too many attempts', `Wait ${seconds} seconds and try again.`),
    { headers: { 'Retry-After': String(seconds) } },
  );
}

/** The refusal while many passwords are being checked already. */
export function hashingBusy(): Refusal {
  const seconds = 2;
  return refuse(
    429,
    problem(
      'sign-in-busy',
      '',
      '',
      'Many people are signing in at this moment',
      `Wait ${seconds} seconds and try again.`,
    ),
    { headers: { 'Retry-After': String(seconds) } },
  );
}
