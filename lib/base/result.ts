/**
 * Expected failures travel as values; exceptions are for our own bugs.
 * A `Problem` always says which field, what value and what to do about it.
 */
export interface Problem {
  /** Short stable code, lower case with hyphens, for machines. */
  readonly code: string;
  /** Path of the offending field, e.g. `body.value`; empty when the whole is meant. */
  readonly field: string;
  /** The value as received, shortened for display. */
  readonly value: string;
  /** One sentence for a person: what is wrong. */
  readonly message: string;
  /** One sentence for a person: the way out. */
  readonly wayOut: string;
}

export type Result<T, E = Problem> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: E };

/** A success carrying `value`. */
export function ok<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

/** A failure carrying `error`. */
export function fail<E>(error: E): { readonly ok: false; readonly error: E } {
  return { ok: false, error };
}

const SHOWN_VALUE_CHARS_MAX = 80;

/** Text of any value for a message, at most 80 characters; never throws. */
export function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = textOf(value);
  return text.length > SHOWN_VALUE_CHARS_MAX ? `${text.slice(0, SHOWN_VALUE_CHARS_MAX - 1)}…` : text;
}

function textOf(value: unknown): string {
  if (typeof value === 'string') return value;
  try {
    return JSON.stringify(value) ?? String(value);
  } catch {
    // Too deep, circular or not made for JSON: turning such an object into text may throw as well.
    return typeof value === 'bigint' ? String(value) : 'a value that cannot be shown';
  }
}

/** Builds a problem; `value` is shortened with `shown`. */
export function problem(
  code: string,
  field: string,
  value: unknown,
  message: string,
  wayOut: string,
): Problem {
  return { code, field, value: shown(value), message, wayOut };
}

/** One line of text for a problem: field, value, message, way out. */
export function problemText(p: Problem): string {
  const where = p.field === '' ? '' : `${p.field}: `;
  return `${where}${p.message} (received ${p.value === '' ? 'an empty value' : p.value}). ${p.wayOut}`;
}
