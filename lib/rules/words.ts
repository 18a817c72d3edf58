import type { DefectKind } from '../marks/index.ts';
import { characteristicOf } from '../readings/index.ts';
import type { Bounds, Source } from '../tolerances/index.ts';
import { fromMm, MM_PER_UNIT, showLength, showNumber, type UnitPreference } from '../units/index.ts';
import type { CharacteristicId } from '../wheel/index.ts';
import type { LimitFinding } from './finding.ts';

export const DEFECT_NAMES: Readonly<Record<DefectKind, string>> = {
  crack: 'Crack',
  corrosion: 'Corrosion',
  pitting: 'Pitting',
  wear: 'Wear',
  bent: 'Bent out of shape',
  broken: 'Broken',
  other: 'Other defect',
};

/** "a, b and c". */
export function listed(words: readonly (string | number)[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

const MM2_PER_SQUARE_INCH = MM_PER_UNIT.in ** 2;

/** "at 3 o'clock" or "" when no position was given. */
export function atClock(clock: number | null): string {
  return clock === null ? '' : ` at ${clock} o'clock`;
}

/** An area in mm² for reading: cm² to a tenth, or in² to a hundredth. */
function areaText(areaMm2: number, preference: UnitPreference): string {
  return preference === 'metric'
    ? `${showNumber(areaMm2 / 100, 1)} cm²`
    : `${showNumber(areaMm2 / MM2_PER_SQUARE_INCH, 2)} in²`;
}

/** A size (mm, mm²) with its unit: mm to a hundredth or inches to four decimals; areas in cm² or in². */
export function sizeText(
  characteristic: CharacteristicId,
  value: number,
  preference: UnitPreference = 'metric',
): string {
  return characteristicOf(characteristic).quantity === 'area'
    ? areaText(value, preference)
    : showLength(value, preference, 2);
}

/** A standard uncertainty (mm, mm²) with its unit, one digit finer than the size it belongs to; never shown as nothing. */
export function uText(
  characteristic: CharacteristicId,
  u: number,
  preference: UnitPreference = 'metric',
): string {
  const area = characteristicOf(characteristic).quantity === 'area';
  const metric = preference === 'metric';
  const inUnit = area ? (metric ? u / 100 : u / MM2_PER_SQUARE_INCH) : metric ? u : fromMm(u, 'in');
  const decimals = area ? (metric ? 2 : 3) : metric ? 3 : 5;
  const unit = area ? (metric ? 'cm²' : 'in²') : metric ? 'mm' : 'in';
  const least = 10 ** -decimals;
  return u > 0 && inUnit < least / 2
    ? `under ${showNumber(least, decimals)} ${unit}`
    : `${showNumber(inUnit, decimals)} ${unit}`;
}

/** Bounds in words, each end shown by `show`. */
export function boundsInWords({ min, max }: Bounds, show: (end: number) => string): string {
  if (min !== undefined && max !== undefined) return `${show(min)} to ${show(max)}`;
  return min !== undefined ? `at least ${show(min)}` : `at most ${show(max ?? 0)}`;
}

/** "at least 10.50 mm", "at most 2.00 mm" or "4.00 mm to 16.00 mm"; in inches where they are preferred. */
export function boundsText(
  characteristic: CharacteristicId,
  bounds: Bounds,
  preference: UnitPreference = 'metric',
): string {
  return boundsInWords(bounds, (end) => sizeText(characteristic, end, preference));
}

/** Title, section and kind of a source; demonstration and memory are always said. */
export function sourceText(source: Source): string {
  const place = [source.title, source.section, source.page].filter((part) => part !== '').join(' ');
  return source.kind === 'published' ? place : `${place}, ${source.kind}`;
}

/** "Gutter depth", "Lock-ring end gap, free" or "Pitting depth, gutter lip": the quantity of a finding. */
export function quantityText({
  characteristic,
  state,
  zone,
}: Pick<LimitFinding, 'characteristic' | 'state' | 'zone'>): string {
  const definition = characteristicOf(characteristic);
  const oneZone = Object.values(definition.zones).every((zones) => zones.length === 1);
  return `${definition.label}${state === null ? '' : `, ${state}`}${oneZone ? '' : `, ${zone}`}`;
}
