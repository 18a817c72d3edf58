import type { Problem, Result } from '../../../lib/base/index.ts';
import { type Mark, markWord } from '../../../lib/marks/index.ts';
import type { PhotoMeasure } from '../../../lib/photo/index.ts';
import { MM_PER_UNIT, showLength, showNumber, type UnitPreference } from '../../../lib/units/index.ts';

/** A photo measure in words: value and U (k = 2). */
export function measureText(
  quantity: PhotoMeasure['quantity'],
  value: number,
  u: number,
  units: UnitPreference = 'metric',
): string {
  if (quantity === 'length') return `${showLength(value, units)} ± ${showLength(2 * u, units)}`;
  if (quantity === 'angle') return `${showNumber(value, 1)}° ± ${showNumber(2 * u, 1)}°`;
  const [per, unit] = units === 'metric' ? [100, 'cm²'] : [MM_PER_UNIT.in ** 2, 'in²'];
  return `${showNumber(value / per, 1)} ± ${showNumber((2 * u) / per, 1)} ${unit}`;
}

/** A standard uncertainty in words, in the unit of its quantity. */
export function uText(
  quantity: PhotoMeasure['quantity'],
  u: number,
  units: UnitPreference = 'metric',
): string {
  if (quantity === 'length') return showLength(u, units);
  return quantity === 'angle' ? `${showNumber(u, 2)}°` : `${showNumber(u / 100, 2)} cm²`;
}

/** Size of a mark on one photo; null while it is being measured. */
export type Gauge = (
  mark: Pick<Mark, 'shape' | 'component' | 'zone'>,
) => Result<PhotoMeasure, Problem> | null;

/** Label of a mark: what it is and how large, where that is known. */
export function sizeOfMark(
  mark: Pick<Mark, 'shape' | 'component' | 'zone' | 'defect'>,
  gauge: Gauge | null,
  units: UnitPreference,
): string {
  const word = markWord(mark);
  const measured = gauge?.(mark);
  if (measured?.ok === true)
    return `${word} ${measureText(measured.value.quantity, measured.value.value, measured.value.u, units)}`;
  return measured?.error.code === 'measure-quality' ? `${word}, not measured` : word;
}
