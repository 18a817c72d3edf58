import type { z } from 'zod';
import { must, type Problem, problemsFromIssues } from '../../lib/base/index.ts';

const WAY_OUT = 'Compare with the description at /api/v1/openapi.json and send it again.';

/** The first wrong field of a checked value as a problem; passwords are never repeated. */
export function fieldProblem(error: z.ZodError, received: unknown, code: string): Problem {
  const first = must(
    problemsFromIssues(code, received, error.issues, WAY_OUT)[0],
    'an issue of a failed check',
  );
  return /password/i.test(first.field) ? { ...first, value: 'not shown' } : first;
}
