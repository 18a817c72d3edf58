import { describedAt, instrumentUMm, ranOutBefore, type WithEarlier } from '../readings/index.ts';
import type { ReadingEvidence } from './evidence.ts';

/** Standard uncertainty taken for a reading without a named instrument, mm. Our own choice; it cannot support keep. */
const UNNAMED_INSTRUMENT_U_MM = 0.5;

/**
 * What the engine reads of the instrument behind a reading taken at `at` (ISO 8601) and typed to a step (mm); undefined:
 * none was named. Its u is that of the description that covers the day, else of the newest. Without one the due day is
 * that of the calibration that had run out, null where none had: the first was done later, or none was ever dated.
 */
export function instrumentFacts(
  instrument: WithEarlier | undefined,
  at: string,
  typedStep: number,
): Pick<ReadingEvidence, 'uMm' | 'instrument'> {
  if (instrument === undefined) {
    return { uMm: Math.max(UNNAMED_INSTRUMENT_U_MM, typedStep / Math.sqrt(12)), instrument: null };
  }
  const covering = describedAt(instrument, at);
  return {
    uMm: instrumentUMm(covering ?? instrument, typedStep),
    instrument: {
      name: instrument.name,
      calibrationDue: covering === undefined ? ranOutBefore(instrument, at) : covering.calibrationDue,
      expired: covering === undefined,
    },
  };
}
