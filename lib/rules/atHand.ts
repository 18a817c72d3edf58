import { type Instrument, type InstrumentKind, instrumentUMm, isExpired } from '../readings/index.ts';
import type { CharacteristicId } from '../wheel/index.ts';
import type { InstrumentAtHand } from './settle.ts';

/** Which instruments a quantity is taken with, after the ways of measuring in lib/readings; common practice, no source. */
const SUITED: Readonly<Record<CharacteristicId, readonly InstrumentKind[]>> = {
  'gutter depth': ['depth gauge'],
  'flange wear': ['calliper', 'depth gauge'],
  'lock-ring gap': ['calliper', 'steel tape'],
  'bead seat wear': ['feeler gauge', 'depth gauge', 'calliper'],
  'pitting depth': ['depth gauge'],
  'corrosion area': [],
  'crack length': [],
};

/**
 * The instruments with which a quantity can be measured again at the moment `at` (ISO 8601) so that the reading supports
 * keep: of a kind that suits it and in calibration. Each with the standard uncertainty of one reading, mm; in the order
 * given.
 */
export function atHandFor(
  characteristic: CharacteristicId,
  instruments: Iterable<Instrument>,
  at: string,
): InstrumentAtHand[] {
  return [...instruments]
    .filter(({ kind }) => SUITED[characteristic].includes(kind))
    .filter((instrument) => !isExpired(instrument, at))
    .map((instrument) => ({ name: instrument.name, uMm: instrumentUMm(instrument) }));
}
