export type { Characteristic } from './characteristic.ts';
export { characteristics } from './data/characteristics.ts';
export {
  describedAt,
  Instrument,
  InstrumentKind,
  instrumentUMm,
  isExpired,
  ranOutBefore,
  type WithEarlier,
} from './instrument.ts';
export { characteristicOf, gaugeCharacteristicsAt, zoneOf } from './lookup.ts';
export { checkReading, Reading, type ReadText, readTyped, typedStepMm } from './reading.ts';
