/** Lets at most `width` pieces of work run at the same time; the others wait in order, `queue` of them at most. */
export class Gate {
  #free: number;
  readonly #queue: number;
  readonly #waiting: Array<() => void> = [];

  constructor(width: number, queue = Number.POSITIVE_INFINITY) {
    this.#free = width;
    this.#queue = queue;
  }

  /** Whether as many wait as may: the caller then refuses instead of running. */
  get full(): boolean {
    return this.#free === 0 && this.#waiting.length >= this.#queue;
  }

  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.#free > 0) this.#free -= 1;
    else await new Promise<void>((resolve) => this.#waiting.push(resolve));
    try {
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next === undefined) this.#free += 1;
      else next();
    }
  }
}
