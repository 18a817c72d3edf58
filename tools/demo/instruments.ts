import type { Instrument } from '../../lib/readings/index.ts';
import type { CharacteristicId } from '../../lib/wheel/index.ts';

export type InstrumentKey = 'depth' | 'depth, old' | 'calliper' | 'tape' | 'feeler' | 'profile' | 'pits';

/** A gauge of the tyre bay; days count back from today. */
export interface DemoInstrument extends Omit<Instrument, 'calibratedOn' | 'calibrationDue'> {
  readonly key: InstrumentKey;
  /** Days on which it was calibrated, longest ago first; each holds for a year. */
  readonly calibratedDays: readonly number[];
}

/** How long a calibration holds. */
export const CALIBRATION_HOLDS_DAYS = 365;

const YEARLY = [1098, 750, 392, 31] as const;

export const demoInstruments: readonly DemoInstrument[] = [
  {
    key: 'depth',
    name: 'Depth gauge 1',
    kind: 'depth gauge',
    serial: 'DEMO-D1',
    resolutionMm: 0.05,
    certificateUMm: 0.02,
    calibratedDays: YEARLY,
  },
  {
    // Left out of the last round of calibrations.
    key: 'depth, old',
    name: 'Depth gauge 2',
    kind: 'depth gauge',
    serial: 'DEMO-D2',
    resolutionMm: 0.1,
    certificateUMm: 0.03,
    calibratedDays: [1098, 750, 392],
  },
  {
    key: 'calliper',
    name: 'Calliper 1',
    kind: 'calliper',
    serial: 'DEMO-C1',
    resolutionMm: 0.02,
    certificateUMm: 0.02,
    calibratedDays: YEARLY,
  },
  {
    key: 'tape',
    name: 'Steel tape 1',
    kind: 'steel tape',
    serial: 'DEMO-T1',
    resolutionMm: 0.5,
    certificateUMm: 0.2,
    calibratedDays: YEARLY,
  },
  {
    key: 'feeler',
    name: 'Feeler gauge 1',
    kind: 'feeler gauge',
    serial: 'DEMO-F1',
    resolutionMm: 0.05,
    certificateUMm: 0.01,
    calibratedDays: YEARLY,
  },
  {
    key: 'profile',
    name: 'Gutter profile gauge 1',
    kind: 'profile gauge',
    serial: 'DEMO-P1',
    resolutionMm: 0.2,
    certificateUMm: 0.1,
    calibratedDays: YEARLY,
  },
  {
    key: 'pits',
    name: 'Pit gauge 1',
    kind: 'depth gauge',
    serial: 'DEMO-D3',
    resolutionMm: 0.1,
    certificateUMm: 0.03,
    calibratedDays: YEARLY,
  },
];

/** Which instrument is taken to what; what is taken from marks on photos needs none. */
export const instrumentFor: Readonly<Partial<Record<CharacteristicId, InstrumentKey>>> = {
  'gutter depth': 'depth',
  'flange wear': 'calliper',
  'lock-ring gap': 'tape',
  'bead seat wear': 'feeler',
  'pitting depth': 'pits',
};
