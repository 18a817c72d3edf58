import { type Instrument, instrumentUMm, isExpired } from '../readings/index.ts';
import type { ReadingEvidence } from './evidence.ts';

/** Standard uncertainty taken for a reading without a named instrument, mm. Our own choice; it cannot support keep. */
const UNNAMED_INSTRUMENT_U_MM = 0.5;

/** What the engine reads of the instrument behind a reading taken at `at` (ISO 8601) and typed to a step (mm); undefined: none was named. */
export function instrumentFacts(
  instrument: Instrument | undefined,
  at: string,
  typedStep: number,
): Pick<ReadingEvidence, 'uMm' | 'instrument'> {
  if (instrument === undefined) {
    return { uMm: Math.max(UNNAMED_INSTRUMENT_U_MM, typedStep / Math.sqrt(12)), instrument: null };
  }
  const { name, calibrationDue } = instrument;
  return {
    uMm: instrumentUMm(instrument, typedStep),
    instrument: { name, calibrationDue, expired: isExpired(instrument, at) },
  };
}
