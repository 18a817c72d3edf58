import { fromMm } from './length.ts';

export type UnitPreference = 'metric' | 'imperial';

/** A number rounded half up to a fixed count of decimals, trailing zeros kept, minus as U+2212; "−0.0" never appears. */
export function showNumber(value: number, decimals: number): string {
  const factor = 10 ** decimals;
  // Half up on the decimal number as written: 0.95 is 1.0, though no binary number is 0.95.
  const text = (Math.round(Number((Math.abs(value) * factor).toPrecision(15))) / factor).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A length for reading: metric in mm with `decimals` (default 1), imperial in inches with two more. */
export function showLength(lengthMm: number, preference: UnitPreference = 'metric', decimals = 1): string {
  return preference === 'metric'
    ? `${showNumber(lengthMm, decimals)} mm`
    : `${showNumber(fromMm(lengthMm, 'in'), decimals + 2)} in`;
}

/** A probability as a share in words that never claims certainty: below 0.1 % and above 99.9 % are said so. */
export function showProbability(probability: number): string {
  if (probability < 0.001) return 'under 0.1 %';
  if (probability > 0.999) return 'over 99.9 %';
  return `${showNumber(probability * 100, probability < 0.1 ? 1 : 0)} %`;
}
