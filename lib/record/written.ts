/** A fact with who wrote it and when, and the entry it stands in. */
export interface Written<T> {
  readonly value: T;
  readonly entry: string;
  readonly at: string;
  readonly author: string;
}
