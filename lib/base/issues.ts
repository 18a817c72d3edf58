import { type Problem, problem } from './result.ts';

/** What a schema library reports: where, and what is wrong. */
export interface Issue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
  /** Names of members that do not belong there, where that is the issue. */
  readonly keys?: readonly string[];
}

/** The value at a path inside a value; undefined where the path leads nowhere. */
export function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
        ? (inner as Record<PropertyKey, unknown>)[key]
        : undefined,
    value,
  );
}

/** Problems from schema issues, each with field and value as received; `prefix` stands before every field. */
export function problemsFromIssues(
  code: string,
  candidate: unknown,
  issues: readonly Issue[],
  wayOut: string,
  prefix = '',
): Problem[] {
  return issues.map((issue) => {
    const path = [...issue.path, ...(issue.keys ?? []).slice(0, 1)];
    const field = [prefix, ...path.map(String)].filter((part) => part !== '').join('.');
    return problem(code, field, valueAt(candidate, path), issue.message, wayOut);
  });
}
