import type { z } from 'zod';
import { type Problem, problem } from '../../lib/base/index.ts';

/** The first wrong field of a checked value as a problem; passwords are never repeated. */
export function fieldProblem(error: z.ZodError, received: unknown, code: string): Problem {
  const issue = error.issues[0];
  const extra = issue?.code === 'unrecognized_keys' ? issue.keys.slice(0, 1) : [];
  const path = [...(issue?.path ?? []), ...extra].map(String);
  const field = path.join('.');
  const value = /password/i.test(field) ? 'not shown' : valueAt(received, path);
  return problem(
    code,
    field,
    value,
    issue?.message ?? 'This value is not in the described form',
    'Compare with the description at /api/v1/openapi.json and send it again.',
  );
}

function valueAt(received: unknown, path: readonly string[]): unknown {
  let value = received;
  for (const name of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.entries(value).find(([key]) => key === name)?.[1];
  }
  return value;
}
