import { type DefectKind, markWord, type Shape } from '../../../lib/marks/index.ts';
import { measureShape } from '../../../lib/photo/index.ts';
import type { PhotoScale } from '../../../lib/record/index.ts';
import { showLength, showNumber } from '../../../lib/units/index.ts';

/** A photo measure in words: value and U (k = 2). */
export function measureText(quantity: 'length' | 'area', value: number, u: number): string {
  return quantity === 'length'
    ? `${showLength(value)} ± ${showLength(2 * u)}`
    : `${showNumber(value / 100, 1)} ± ${showNumber((2 * u) / 100, 1)} cm²`;
}

/** Label of a mark: what it is and how large, where that is known. */
export function sizeOfMark(
  mark: { readonly defect: DefectKind | null; readonly shape: Shape },
  scale: PhotoScale | null,
): string {
  const word = markWord(mark);
  if (scale === null) return word;
  const measured = measureShape(mark.shape, scale);
  return measured.ok
    ? `${word} ${measureText(measured.value.quantity, measured.value.value, measured.value.u)}`
    : word;
}
