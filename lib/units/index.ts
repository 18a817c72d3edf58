export { parseTypedHours } from './hours.ts';
export { fromMm, hasMm, type LengthUnit, MM_PER_UNIT, type Mm, toMm, toMm2 } from './length.ts';
export { erfc, normalCdf } from './normal.ts';
export { KPA_PER_UNIT, type PressureUnit, parseTypedPressure } from './pressure.ts';
export { showLength, showNumber, showProbability, type UnitPreference } from './show.ts';
export { parseTypedLength, parseTypedNumber, type TypedLength } from './typed.ts';
