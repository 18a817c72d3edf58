import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { hasMm, type LengthUnit, type Mm, toMm } from './length.ts';

/** A length read from typed text. The text itself is kept by whoever stores the reading. */
export interface TypedLength {
  readonly valueMm: Mm;
  /** The number in the unit it was typed in. */
  readonly value: number;
  readonly unit: LengthUnit;
}

const UNIT_WORDS: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  cm: 'cm',
  m: 'm',
  in: 'in',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  '″': 'in',
  '”': 'in',
  "''": 'in',
};

const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const WAY_OUT = 'Type a number with an optional unit, such as 4.5, 4,5 mm, 3/16 in or 1 3/16 in.';

/** Whole, decimal (point or comma) and fraction forms; no grouping separators, so 1,234 is one and a bit. */
const DECIMAL = /^(?:\d+(?:[.,]\d*)?|[.,]\d+)$/;
const MIXED = /^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/;

/**
 * Reads an unsigned-or-minus number: decimals with point or comma, fractions and mixed fractions
 * ("1 3/16", "1-3/16", "1¼"). Returns null when the text has another form.
 */
export function parseTypedNumber(text: string): number | null {
  const plain = text
    .trim()
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (glyph) => ` ${VULGAR[glyph]}`)
    .replace(/[−–]/g, '-')
    .replace(/⁄/g, '/')
    .trim();
  const negative = plain.startsWith('-');
  const body = negative ? plain.slice(1).trim() : plain.startsWith('+') ? plain.slice(1).trim() : plain;
  let value: number;
  if (DECIMAL.test(body)) {
    value = Number(body.replace(',', '.'));
  } else {
    const mixed = MIXED.exec(body);
    if (mixed === null || Number(mixed[3]) === 0) return null;
    value = Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]);
  }
  if (!Number.isFinite(value)) return null;
  return negative && value !== 0 ? -value : value;
}

/**
 * Reads a length as a person types it; without a unit `defaultUnit` is meant.
 * Fails with a problem on `field` naming the text and the forms that are understood; never guesses.
 */
export function parseTypedLength(
  text: string,
  defaultUnit: LengthUnit,
  field = 'value',
): Result<TypedLength, Problem> {
  const trimmed = text.trim();
  if (trimmed === '') return fail(problem('length-empty', field, text, 'There is no number yet', WAY_OUT));
  const unitMatch = /([a-zµ]+|"|″|”|'')\.?$/i.exec(trimmed);
  const unitText = unitMatch?.[1]?.toLowerCase();
  let unit = defaultUnit;
  let numberText = trimmed;
  if (unitMatch !== null && unitText !== undefined) {
    const known = Object.hasOwn(UNIT_WORDS, unitText) ? UNIT_WORDS[unitText] : undefined;
    if (known === undefined) {
      return fail(
        problem('length-unit', field, text, `"${unitText}" is not a unit of length known here`, WAY_OUT),
      );
    }
    unit = known;
    numberText = trimmed.slice(0, unitMatch.index);
  }
  const value = parseTypedNumber(numberText);
  if (value === null) {
    return fail(problem('length-number', field, text, 'This cannot be read as one number', WAY_OUT));
  }
  if (!hasMm(value, unit))
    return fail(problem('length-number', field, text, 'The number is too large', WAY_OUT));
  return ok({ value, unit, valueMm: toMm(value, unit) });
}
