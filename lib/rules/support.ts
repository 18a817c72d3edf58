import { characteristicOf } from '../readings/index.ts';
import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { Missing } from './finding.ts';

/** Whether a reading can support keep: its instrument is named and was in calibration. */
export function supportsKeep(reading: ReadingEvidence): boolean {
  return reading.method === 'photo' || (reading.instrument !== null && !reading.instrument.expired);
}

function unsupportedText(reading: ReadingEvidence): string {
  const { label } = characteristicOf(reading.characteristic);
  const where = reading.clock === null ? '' : ` at ${reading.clock} o'clock`;
  const { instrument } = reading;
  if (instrument === null) {
    return `${label}${where}: no instrument is named, so the reading cannot support keep. Name it or measure again.`;
  }
  const why =
    instrument.calibrationDue === null
      ? 'has no date that covers the day'
      : `ran out on ${instrument.calibrationDue}`;
  return `${label}${where}: the calibration of ${instrument.name} ${why}, so the reading cannot support keep. Measure again with a calibrated instrument.`;
}

/**
 * Readings of one quantity that cannot support the keep they are the only ones for: those at places where a row accepts
 * none that can. Where others can, they must have given keep without them, or the place is not in keep (`takesOf`).
 */
export function unsupported(
  readings: readonly ReadingEvidence[],
  rows: readonly RowInTable<LimitRow>[],
): Missing[] {
  const aloneUnder = ({ row }: RowInTable<LimitRow>, atPlace: readonly ReadingEvidence[]) => {
    const accepted = atPlace.filter((reading) => row.methods.includes(reading.method));
    return accepted.length > 0 && !accepted.some(supportsKeep);
  };
  return readings
    .filter((reading) => !supportsKeep(reading))
    .filter((reading) => {
      const atPlace = readings.filter((other) => other.clock === reading.clock);
      return rows.some((inTable) => aloneUnder(inTable, atPlace));
    })
    .map((reading) => ({
      what: 'instrument',
      text: unsupportedText(reading),
      zone: reading.zone,
      characteristic: reading.characteristic,
      clock: reading.clock,
      state: reading.state,
    }));
}
