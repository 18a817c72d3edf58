import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { parseTypedNumber } from './typed.ts';

/**
 * Kilopascals per unit. 1 bar = 100 kPa exactly; 1 psi = 1 lbf/in² with 1 lbf = 4.448 221 615 260 5 N and
 * 1 in = 25.4 mm exactly (NIST SP 811 B.8).
 */
export const KPA_PER_UNIT = { kPa: 1, bar: 100, psi: 4.4482216152605 / (25.4 * 25.4) / 1e-3 } as const;
export type PressureUnit = keyof typeof KPA_PER_UNIT;

const WORDS: Readonly<Record<string, PressureUnit>> = { kpa: 'kPa', bar: 'bar', psi: 'psi' };
const WAY_OUT = 'Type a number with its unit, such as 650 kPa, 6.5 bar or 94 psi.';

/** Reads a gauge pressure with its unit; never guesses the unit. Fails with a problem on `field`. */
export function parseTypedPressure(text: string, field = 'pressure'): Result<number, Problem> {
  const match = /^(.*?)\s*([a-z]+)$/i.exec(text.trim());
  const word = match?.[2]?.toLowerCase() ?? '';
  const unit = Object.hasOwn(WORDS, word) ? WORDS[word] : undefined;
  const value = match === null ? null : parseTypedNumber(match[1] ?? '');
  if (unit === undefined || value === null) {
    return fail(problem('pressure', field, text, 'This cannot be read as a pressure with its unit', WAY_OUT));
  }
  if (value < 0)
    return fail(problem('pressure', field, text, 'A gauge pressure cannot be below zero', WAY_OUT));
  return ok(value * KPA_PER_UNIT[unit]);
}
