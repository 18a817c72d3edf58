import type { Instrument } from '../../lib/readings/index.ts';
import type { ConstructionId } from '../../lib/wheel/index.ts';

/** The invented maker whose demonstration limits come with the program, and a second one it has no limits for. */
export const MAKER = 'Quillmoor Rimworks';
export const OTHER_MAKER = 'Tarnwick Demonstration Forge';

/** A wheel of the invented fleet. */
export interface DemoWheel {
  readonly key: string;
  readonly serial: number;
  readonly designation: string;
  readonly construction: ConstructionId;
  readonly series: string;
  readonly machine: string;
  readonly position: string;
  readonly dual: boolean;
  /** Year and month of making of its parts; null: not known. */
  readonly madeOn: string | null;
  /** Slots that differ from the rest of the wheel. */
  readonly odd: Readonly<Record<string, 'unknown age' | 'other maker' | 'unidentified'>>;
  /** Days before today of the newest magnetic particle test of the rim base; null: none on record. */
  readonly testedDays: number | null;
}

const HAULER = 'Haul truck HT-01';
const LOADER = 'Loader WL-02';
const WATER = 'Water cart WC-03';
const big = { series: 'QX-57', machine: HAULER, madeOn: '2021-06', testedDays: 180 } as const;

/** Designations as stamped, from 25 to 57 inch; all three constructions; one dual pair. */
export const demoWheels: readonly DemoWheel[] = [
  {
    ...big,
    key: 'hauler front left',
    serial: 4_210_337,
    designation: '57-29.00/6.0',
    construction: 'double-gutter seven-piece',
    position: 'front left',
    dual: false,
    odd: {},
  },
  {
    ...big,
    key: 'hauler front right',
    serial: 4_210_338,
    designation: '57-29.00/6.0',
    construction: 'double-gutter seven-piece',
    position: 'front right',
    dual: false,
    odd: { 'rear lock ring': 'unidentified', 'front bead seat band': 'unknown age' },
  },
  {
    ...big,
    key: 'hauler rear outer',
    serial: 7_001_902,
    designation: '57-29.00/6.0',
    construction: 'five-piece',
    position: 'rear right, outer',
    dual: true,
    odd: { 'lock ring': 'unknown age' },
  },
  {
    ...big,
    key: 'hauler rear inner',
    serial: 7_001_903,
    designation: '57-29.00/6.0',
    construction: 'five-piece',
    position: 'rear right, inner',
    dual: true,
    odd: { 'back side flange': 'other maker' },
  },
  {
    key: 'loader front left',
    serial: 11_930_446,
    designation: '33-28.00/3.5',
    construction: 'five-piece',
    series: 'QX-33',
    machine: LOADER,
    position: 'front left',
    dual: false,
    madeOn: '2019-02',
    odd: {},
    testedDays: 210,
  },
  {
    key: 'loader front right',
    serial: 11_930_447,
    designation: '33-28.00/3.5',
    construction: 'five-piece',
    series: 'QX-33',
    machine: LOADER,
    position: 'front right',
    dual: false,
    madeOn: null,
    odd: {},
    testedDays: 430,
  },
  {
    key: 'water cart front left',
    serial: 19_400_021,
    designation: '25-22.00/3.0',
    construction: 'three-piece',
    series: 'QX-25',
    machine: WATER,
    position: 'front left',
    dual: false,
    madeOn: '2022-09',
    odd: {},
    testedDays: 160,
  },
  {
    key: 'water cart front right',
    serial: 19_400_022,
    designation: '25-22.00/3.0',
    construction: 'three-piece',
    series: 'QX-25',
    machine: WATER,
    position: 'front right',
    dual: false,
    madeOn: '2022-09',
    odd: { 'lock ring': 'unknown age' },
    testedDays: null,
  },
];

/** Gauges of the tyre bay; days count from today, negative ones lie ahead. */
export interface DemoInstrument extends Omit<Instrument, 'calibratedOn' | 'calibrationDue'> {
  readonly key: 'depth' | 'depth, expired' | 'calliper' | 'tape' | 'feeler' | 'profile';
  readonly calibratedDays: number;
  readonly dueDays: number;
}

export const demoInstruments: readonly DemoInstrument[] = [
  {
    key: 'depth',
    name: 'Depth gauge 1',
    kind: 'depth gauge',
    serial: 'DEMO-D1',
    resolutionMm: 0.05,
    certificateUMm: 0.02,
    calibratedDays: 150,
    dueDays: -215,
  },
  {
    key: 'depth, expired',
    name: 'Depth gauge 2',
    kind: 'depth gauge',
    serial: 'DEMO-D2',
    resolutionMm: 0.1,
    certificateUMm: 0.03,
    calibratedDays: 410,
    dueDays: 45,
  },
  {
    key: 'calliper',
    name: 'Calliper 1',
    kind: 'calliper',
    serial: 'DEMO-C1',
    resolutionMm: 0.02,
    certificateUMm: 0.02,
    calibratedDays: 150,
    dueDays: -215,
  },
  {
    key: 'tape',
    name: 'Steel tape 1',
    kind: 'steel tape',
    serial: 'DEMO-T1',
    resolutionMm: 0.5,
    certificateUMm: 0.2,
    calibratedDays: 150,
    dueDays: -580,
  },
  {
    key: 'feeler',
    name: 'Feeler gauge 1',
    kind: 'feeler gauge',
    serial: 'DEMO-F1',
    resolutionMm: 0.05,
    certificateUMm: 0.01,
    calibratedDays: 150,
    dueDays: -215,
  },
  {
    key: 'profile',
    name: 'Gutter profile gauge 1',
    kind: 'profile gauge',
    serial: 'DEMO-P1',
    resolutionMm: 0.2,
    certificateUMm: 0.1,
    calibratedDays: 150,
    dueDays: -215,
  },
];
