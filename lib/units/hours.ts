import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

const HOURS_MAX = 1_000_000;

/**
 * Whole hours as a person types them, 0 to 1 000 000; spaces, thin and no-break ones too, may part the thousands. A
 * point or a comma is refused: "12,400" taken for 12.4 h would pass every limit. Fails with a problem on `field`.
 */
export function parseTypedHours(typed: string, field: string): Result<number, Problem> {
  const digits = typed.replace(/\s/gu, '');
  if (/^\d{1,7}$/.test(digits) && Number(digits) <= HOURS_MAX) return ok(Number(digits));
  return fail(
    problem(
      'typed-hours',
      field,
      typed,
      'This is no whole number of hours',
      'Type whole hours without separators, such as 12400.',
    ),
  );
}
