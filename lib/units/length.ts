import type { Brand } from '../base/index.ts';

export type Mm = Brand<number, 'Mm'>;

/** Units a length can be typed in. Exact: 1 in = 25.4 mm (international inch, 1959; NIST SP 811 B.8). */
export const MM_PER_UNIT = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;
export type LengthUnit = keyof typeof MM_PER_UNIT;

/** Marks a finite number as millimetres. Throws on NaN and infinities: a bug of ours. */
function mm(value: number): Mm {
  if (!Number.isFinite(value)) throw new Error(`Broken invariant: ${value} is no length in millimetres`);
  return value as Mm;
}

/** The decimal number that a product stands for; a factor of 1 leaves every digit. */
function times(value: number, factor: number): number {
  return factor === 1 ? value : Number((value * factor).toPrecision(15));
}

/** Whether `value` in `unit`, or in its square, is not too large for `toMm` or `toMm2`. */
export function hasMm(value: number, unit: LengthUnit, power: 1 | 2 = 1): boolean {
  return Number.isFinite(times(value, MM_PER_UNIT[unit] ** power));
}

/**
 * Millimetres of `value` given in `unit`: the decimal that the exact product stands for, to 15 digits, so that 7/16 in
 * and 11.1125 mm are the same number. Throws as `mm`.
 */
export function toMm(value: number, unit: LengthUnit): Mm {
  return mm(times(value, MM_PER_UNIT[unit]));
}

/** Square millimetres of `value` given in the square of `unit`, as `toMm`. Throws as `mm`. */
export function toMm2(value: number, unit: LengthUnit): number {
  return mm(times(value, MM_PER_UNIT[unit] ** 2));
}

/** `lengthMm` expressed in `unit`. */
export function fromMm(lengthMm: number, unit: LengthUnit): number {
  return lengthMm / MM_PER_UNIT[unit];
}
