/** Throws when `condition` is false: a bug of ours, never bad input. `what` names the broken invariant. */
export function assert(condition: boolean, what: string): asserts condition {
  if (!condition) throw new Error(`Broken invariant: ${what}`);
}

/** Makes a forgotten case of a union a compile error; throws if it is reached all the same. */
export function assertNever(value: never): never {
  throw new Error(`Broken invariant: unexpected case ${JSON.stringify(value)}`);
}

/** The value, or an error naming `what` when it is null or undefined: for what must be there by construction. */
export function must<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`Broken invariant: ${what} is missing`);
  return value;
}
