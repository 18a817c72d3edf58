import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';

const HOURS_MAX = 1_000_000;
/** Digits alone, or in threes from the right. */
const WHOLE = /^\d+$|^\d{1,3}(?:\s\d{3})+$/u;

/**
 * Whole hours as a person types them, 0 to 1 000 000; spaces, thin and no-break ones too, may part the thousands. A
 * point or a comma is refused: "12,400" taken for 12.4 h would pass every limit. Fails with a problem on `field`.
 */
export function parseTypedHours(typed: string, field: string): Result<number, Problem> {
  const trimmed = typed.trim();
  const hours = Number(trimmed.replace(/\s/gu, ''));
  if (WHOLE.test(trimmed) && hours <= HOURS_MAX) return ok(hours);
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
