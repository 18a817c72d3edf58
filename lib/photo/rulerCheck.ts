import { fail, must, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type LengthUnit, parseTypedLength } from '../units/index.ts';
import { type CardName, cardLayout } from './card.ts';
import { rulerLengthMm } from './cardDrawing.ts';

/** What the millimetre ruler of a print measures against its nominal length, mm; goes into the scale of a photo. */
export interface CheckedRuler {
  readonly nominalMm: number;
  readonly measuredMm: number;
}

/** Printers that fit to the page are off by up to some percent; more is a print gone wrong or a slip. Our own choice. */
const OFF_SHARE_MAX = 0.1;

/** Nominal length of the millimetre ruler of a card, mm. */
export function nominalRulerMm(name: CardName): number {
  const ruler = cardLayout(name).rulers.find((one) => one.unit === 'mm');
  return rulerLengthMm(must(ruler, `millimetre ruler of the ${name}`));
}

/**
 * Reads what somebody measured on the millimetre ruler of a printed card. Fails on what is no length, and on a length
 * more than a tenth off the nominal one.
 */
export function readRuler(
  name: CardName,
  typed: string,
  defaultUnit: LengthUnit,
): Result<CheckedRuler, Problem> {
  const field = `ruler of the ${name}`;
  const length = parseTypedLength(typed, defaultUnit, field);
  if (!length.ok) return length;
  const nominalMm = nominalRulerMm(name);
  const measuredMm = length.value.valueMm;
  if (Math.abs(measuredMm - nominalMm) > OFF_SHARE_MAX * nominalMm) {
    return fail(
      problem(
        'ruler-off',
        field,
        typed,
        `The ruler from 0 to ${nominalMm} should measure close to ${nominalMm} mm; this is more than a tenth off`,
        `Measure again from the line at 0 to the line at ${nominalMm}. If it is right, the page was fitted to the paper: print it again at 100 %.`,
      ),
    );
  }
  return ok({ nominalMm, measuredMm });
}
