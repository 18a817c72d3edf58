import { characteristicOf } from '../readings/index.ts';
import type { LimitRow, RowInTable } from '../tolerances/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import type { Missing } from './finding.ts';

/** Whether a reading can support keep: its instrument is named and its calibration had not run out. */
function supportsKeep(reading: ReadingEvidence): boolean {
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
    instrument.calibrationDue === null ? 'has no due date' : `ran out on ${instrument.calibrationDue}`;
  return `${label}${where}: the calibration of ${instrument.name} ${why}, so the reading cannot support keep. Measure again with a calibrated instrument.`;
}

/** Whether the readings at one place that can support keep give it by themselves, under every row that accepts readings there. */
function standsAlone(
  atPlace: readonly ReadingEvidence[],
  rows: readonly RowInTable<LimitRow>[],
  keeps: (own: readonly ReadingEvidence[], inTable: RowInTable<LimitRow>) => boolean,
): boolean {
  return rows.every((inTable) => {
    const accepted = atPlace.filter((reading) => inTable.row.methods.includes(reading.method));
    const own = accepted.filter(supportsKeep);
    return own.length === accepted.length || (own.length > 0 && keeps(own, inTable));
  });
}

/**
 * Readings of one quantity that cannot support the keep they have a part in: those at places where the readings that can
 * do not give keep by themselves. A precise instrument out of calibration must not outweigh a calibrated one.
 * `keeps` says whether some readings alone are in keep under a row.
 */
export function unsupported(
  readings: readonly ReadingEvidence[],
  rows: readonly RowInTable<LimitRow>[],
  keeps: (own: readonly ReadingEvidence[], inTable: RowInTable<LimitRow>) => boolean,
): Missing[] {
  return readings
    .filter((reading) => !supportsKeep(reading))
    .filter((reading) => {
      const atPlace = readings.filter((other) => other.clock === reading.clock);
      return !standsAlone(atPlace, rows, keeps);
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
