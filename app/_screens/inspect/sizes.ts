import type { Problem, Result } from '../../../lib/base/index.ts';
import { type Mark, markWord } from '../../../lib/marks/index.ts';
import type { PhotoMeasure, PhotoRuler } from '../../../lib/photo/index.ts';
import { showLength, showNumber } from '../../../lib/units/index.ts';

/** A photo measure in words: value and U (k = 2). */
export function measureText(quantity: 'length' | 'area', value: number, u: number): string {
  return quantity === 'length'
    ? `${showLength(value)} ± ${showLength(2 * u)}`
    : `${showNumber(value / 100, 1)} ± ${showNumber((2 * u) / 100, 1)} cm²`;
}

/** Measures the marks of one photo; null where it has no scale. */
export type Gauge =
  | ((mark: Pick<Mark, 'shape' | 'component' | 'zone'>) => Result<PhotoMeasure, Problem>)
  | null;

/** A gauge over a located photo; `slotOf` names the slot of a component. A mark is measured once until it changes. */
export function gaugeOf(
  ruler: Result<PhotoRuler, Problem>,
  slotOf: (component: string) => string | null,
): Gauge {
  const known = new WeakMap<object, Result<PhotoMeasure, Problem>>();
  return (mark) => {
    const before = known.get(mark);
    if (before !== undefined) return before;
    const measured = ruler.ok ? ruler.value.measure({ ...mark, slot: slotOf(mark.component) }) : ruler;
    known.set(mark, measured);
    return measured;
  };
}

/** Label of a mark: what it is and how large, where that is known. */
export function sizeOfMark(
  mark: Pick<Mark, 'shape' | 'component' | 'zone' | 'defect'>,
  gauge: Gauge,
): string {
  const word = markWord(mark);
  const measured = gauge?.(mark);
  return measured?.ok === true
    ? `${word} ${measureText(measured.value.quantity, measured.value.value, measured.value.u)}`
    : word;
}
