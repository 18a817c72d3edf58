import { characteristicOf } from '../readings/index.ts';
import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { Missing, ReadingGroup } from './finding.ts';
import { type Place, placesOf } from './place.ts';
import { atClock, listed } from './words.ts';

function nameOf({ instrument, method }: ReadingGroup): string {
  return method === 'photo' ? 'photos' : (instrument ?? 'an instrument that is not named');
}

function missingAt({ clock, groups, takes, readings }: Place): Missing[] {
  const [first] = readings;
  if (first === undefined || takes.disagreeing.length === 0) return [];
  const { characteristic, zone, state } = first;
  const names = groups
    .filter((group) => group.readings.some((id) => takes.disagreeing.includes(id)))
    .map(nameOf);
  const label = `${characteristicOf(characteristic).label}${state === null ? '' : `, ${state}`}, ${zone}${atClock(clock)}`;
  const text =
    `${label}: ${listed([...new Set(names)])} disagree by more than their uncertainty explains, so the worst of them counts. ` +
    'Withdraw what is wrong, or measure again until they agree.';
  return [{ what: 'disagreement', text, zone, characteristic, clock, state }];
}

/**
 * Places of one quantity at which instruments disagree under any of the rows, each once: until a reading is withdrawn or
 * more readings bring agreement, the part cannot be kept.
 */
export function disagreements(
  readings: readonly ReadingEvidence[],
  rows: readonly RowInTable<LimitRow>[],
): Missing[] {
  const found = rows.flatMap(({ row }) => {
    const accepted = readings.filter((reading) => row.methods.includes(reading.method));
    return placesOf(accepted).flatMap(missingAt);
  });
  const seen = new Set<string>();
  return found.filter(({ text }) => !seen.has(text) && seen.add(text));
}
