/** Lets at most `width` pieces of work run at the same time; the others wait in order. */
export class Gate {
  #free: number;
  readonly #waiting: Array<() => void> = [];

  constructor(width: number) {
    this.#free = width;
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
