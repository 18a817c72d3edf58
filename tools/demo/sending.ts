import type { Entry } from '../../lib/record/index.ts';

/** As many as the server decodes at a time, and one on its way. */
const LANES = 3;

/** Sends something for each of some entries ahead of them: in their order, in several lanes at a time. */
export class Sending {
  readonly count: number;
  readonly #arrivals = new Map<string, Promise<void>>();
  #stopped = false;

  constructor(entries: readonly Entry[], send: (entry: Entry) => Promise<void>) {
    this.count = entries.length;
    const lanes: Promise<void>[] = [];
    entries.forEach((entry, index) => {
      const arrived = (lanes[index % LANES] ?? Promise.resolve()).then(() => {
        if (this.#stopped) throw new Error('Broken invariant: nobody waits for what is sent after the stop');
        return send(entry);
      });
      lanes[index % LANES] = arrived;
      this.#arrivals.set(entry.id, arrived);
      // Told to whoever waits in `sent`; a failure that nobody waits for yet must not end the process.
      arrived.catch(() => undefined);
    });
  }

  /** Resolves when what belongs to these entries has arrived; rejects when it, or something before it, could not be sent. */
  async sent(entries: readonly Entry[]): Promise<void> {
    await Promise.all(entries.flatMap(({ id }) => this.#arrivals.get(id) ?? []));
  }

  /** Sends nothing more; resolves when what is on its way has arrived or failed. */
  async stop(): Promise<void> {
    this.#stopped = true;
    await Promise.allSettled(this.#arrivals.values());
  }
}
