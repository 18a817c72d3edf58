import { characteristicOf } from '../readings/index.ts';
import type { Bounds, Source } from '../tolerances/index.ts';
import { MM_PER_UNIT, showLength, showNumber, showProbability, type UnitPreference } from '../units/index.ts';
import type { CharacteristicId } from '../wheel/index.ts';
import type { LimitFinding, PositionValue } from './finding.ts';

/** "at 3 o'clock" or "" when no position was given. */
export function atClock(clock: number | null): string {
  return clock === null ? '' : ` at ${clock} o'clock`;
}

/** A size with its unit: mm to a hundredth, areas in cm² to a tenth; or inches to a ten-thousandth, in² to a hundredth. */
export function sizeText(
  characteristic: CharacteristicId,
  value: number,
  units: UnitPreference = 'metric',
): string {
  if (characteristicOf(characteristic).quantity !== 'area') return showLength(value, units, 2);
  return units === 'metric'
    ? `${showNumber(value / 100, 1)} cm²`
    : `${showNumber(value / MM_PER_UNIT.in ** 2, 2)} in²`;
}

/** Expanded uncertainty for reading, k = 2, one digit finer than the value. */
function plusMinus(characteristic: CharacteristicId, u: number): string {
  return characteristicOf(characteristic).quantity === 'area'
    ? `± ${showNumber((2 * u) / 100, 1)} cm²`
    : `± ${showLength(2 * u, 'metric', 2)}`;
}

function boundsInWords({ min, max }: Bounds, show: (end: number) => string): string {
  if (min !== undefined && max !== undefined) return `${show(min)} to ${show(max)}`;
  return min !== undefined ? `at least ${show(min)}` : `at most ${show(max ?? 0)}`;
}

/** "at least 10.5 mm", "at most 2.0 mm" or "4.0 mm to 16.0 mm". */
export function boundsText(
  characteristic: CharacteristicId,
  bounds: Bounds,
  units: UnitPreference = 'metric',
): string {
  return boundsInWords(bounds, (end) => sizeText(characteristic, end, units));
}

/** "at most 15 % lost" or "-2.0 mm or more from nominal": bounds as the row states them. */
function relativeText(
  characteristic: CharacteristicId,
  relative: NonNullable<LimitFinding['relative']>,
): string {
  const one = (bounds: Bounds): string =>
    boundsInWords(bounds, (end) =>
      relative.boundsOf === 'percent lost' ? `${showNumber(end, 1)} %` : sizeText(characteristic, end),
    );
  const how = relative.boundsOf === 'percent lost' ? 'lost of' : 'from';
  const repair = relative.repair === null ? '' : `, repair ${one(relative.repair)}`;
  return ` [keep ${one(relative.keep)}${repair}, ${how} the new size of ${sizeText(characteristic, relative.nominal.value)}]`;
}

/** Title, section and kind of a source; demonstration and memory are always said. */
export function sourceText(source: Source): string {
  const place = [source.title, source.section, source.page].filter((part) => part !== '').join(' ');
  return source.kind === 'published' ? place : `${place}, ${source.kind}`;
}

function valueText(characteristic: CharacteristicId, governing: PositionValue): string {
  const repeats = governing.repeats > 1 ? `, mean of ${governing.repeats}` : '';
  return `${sizeText(characteristic, governing.value)} ${plusMinus(characteristic, governing.u)} (k = 2${repeats})`;
}

/** The sentence of a limit finding, as a person would say it. */
export function limitSentence(finding: Omit<LimitFinding, 'sentence'>): string {
  const { characteristic, governing, positions, keep, repair } = finding;
  const state = finding.state === null ? '' : `, ${finding.state}`;
  const worst = positions.length > 1 ? `, the worst of ${positions.length} places` : '';
  const counted = finding.relative === undefined ? '' : relativeText(characteristic, finding.relative);
  const limits = `Keep: ${boundsText(characteristic, keep)}${repair === null ? '' : `; repair: ${boundsText(characteristic, repair)}`}${counted}`;
  const chances =
    repair === null
      ? `Beyond keep with probability ${showProbability(finding.beyondKeep)}`
      : `Beyond keep with probability ${showProbability(finding.beyondKeep)}, beyond repair ${showProbability(finding.beyondRepair)}`;
  const differs =
    finding.guardedClass === finding.simpleClass
      ? ''
      : ` By the reading alone it would be ${finding.simpleClass}: a better measurement is worth the walk.`;
  const banned =
    finding.noRework === null ? '' : ` Rework is not on offer (${sourceText(finding.noRework.source)}).`;
  const definition = characteristicOf(characteristic);
  const oneZone = Object.values(definition.zones).every((zones) => zones.length === 1);
  const where = oneZone ? '' : `, ${finding.zone}`;
  return (
    `${definition.label}${state}${where}${atClock(governing.clock)} is ${valueText(characteristic, governing)}${worst}. ` +
    `${limits} (${sourceText(finding.rule.source)}). ${chances}.${differs}${banned}`
  );
}
