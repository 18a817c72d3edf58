import { fromMm, type UnitPreference } from '../../lib/units/index.ts';

/** How lengths are drawn and listed: their unit, their decimals, and a length in mm in that unit. */
export interface LengthScale {
  readonly unit: 'mm' | 'in';
  readonly decimals: number;
  of(lengthMm: number): number;
  /** A mean square in mm² in the square of the unit. */
  square(squareMm2: number): number;
}

export function lengthScale(units: UnitPreference): LengthScale {
  const unit = units === 'metric' ? 'mm' : 'in';
  return {
    unit,
    decimals: units === 'metric' ? 3 : 5,
    of: (lengthMm) => fromMm(lengthMm, unit),
    square: (squareMm2) => fromMm(fromMm(squareMm2, unit), unit),
  };
}
