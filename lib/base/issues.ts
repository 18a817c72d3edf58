import { type Problem, problem } from './result.ts';

/** What a schema library reports: where, and what is wrong. */
export interface Issue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/** The value at a path inside a value; undefined where the path leads nowhere. */
export function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null ? (inner as Record<PropertyKey, unknown>)[key] : undefined,
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
    const field = [prefix, ...issue.path.map(String)].filter((part) => part !== '').join('.');
    return problem(code, field, valueAt(candidate, issue.path), issue.message, wayOut);
  });
}
