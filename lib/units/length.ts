import type { Brand } from '../base/index.ts';

export type Mm = Brand<number, 'Mm'>;

/** Units a length can be typed in. Exact: 1 in = 25.4 mm (international inch, 1959; NIST SP 811 B.8). */
export const MM_PER_UNIT = { mm: 1, cm: 10, m: 1000, in: 25.4 } as const;
export type LengthUnit = keyof typeof MM_PER_UNIT;

/** Marks a finite number as millimetres. Throws on NaN and infinities: a bug of ours. */
export function mm(value: number): Mm {
  if (!Number.isFinite(value)) throw new Error(`Broken invariant: ${value} is no length in millimetres`);
  return value as Mm;
}

/** Millimetres of `value` given in `unit`, exact by definition up to one floating-point rounding. */
export function toMm(value: number, unit: LengthUnit): Mm {
  return mm(value * MM_PER_UNIT[unit]);
}

/** `lengthMm` expressed in `unit`. */
export function fromMm(lengthMm: number, unit: LengthUnit): number {
  return lengthMm / MM_PER_UNIT[unit];
}
