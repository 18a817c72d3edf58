import { must } from '../../lib/base/index.ts';
import { type Construction, type ConstructionId, constructionOf } from '../../lib/wheel/index.ts';

/** The invented maker whose demonstration limits come with the program, and a second one it has no limits for. */
export const MAKER = 'Quillmoor Rimworks';
export const OTHER_MAKER = 'Tarnwick Demonstration Forge';
export const OTHER_SERIES = 'TF-D';

/** A machine of the invented fleet: all its wheels are of one size. */
export interface DemoMachine {
  readonly code: string;
  readonly name: string;
  readonly designation: string;
  readonly construction: ConstructionId;
  readonly series: string;
  readonly hoursPerYear: number;
  /** Days before today on which its rims were made, about. */
  readonly madeDays: number;
  /** Serial of the tag of its first wheel. */
  readonly tagFrom: number;
  /** Colour of its rims in the pictures. */
  readonly paint: Paint;
  readonly positions: readonly string[];
  /** Pressures read at the gauge and on the plate, as typed. */
  readonly pressure: { readonly found: string; readonly recommended: string };
}

export type Paint = 'grey' | 'yellow';

const FOUR = ['front left', 'front right', 'rear left', 'rear right'] as const;
const SIX = [
  'front left',
  'front right',
  'rear left outer',
  'rear left inner',
  'rear right inner',
  'rear right outer',
] as const;

export const demoMachines: readonly DemoMachine[] = [
  {
    code: 'HT-01',
    name: 'Haul truck HT-01',
    designation: '49-19.50/4.0',
    construction: 'five-piece',
    series: 'QX-49',
    hoursPerYear: 5400,
    madeDays: 1900,
    tagFrom: 4_210_337,
    paint: 'grey',
    positions: SIX,
    pressure: { found: '98 psi', recommended: '102 psi' },
  },
  {
    code: 'HT-02',
    name: 'Haul truck HT-02',
    designation: '57-29.00/6.0',
    construction: 'five-piece',
    series: 'QX-57',
    hoursPerYear: 5600,
    madeDays: 1480,
    tagFrom: 7_001_902,
    paint: 'grey',
    positions: SIX,
    pressure: { found: '100 psi', recommended: '102 psi' },
  },
  {
    code: 'WL-03',
    name: 'Large loader WL-03',
    designation: '45-36.00/4.5',
    construction: 'double-gutter seven-piece',
    series: 'QX-45',
    hoursPerYear: 4300,
    madeDays: 2100,
    tagFrom: 11_930_446,
    paint: 'yellow',
    positions: FOUR,
    pressure: { found: '92 psi', recommended: '94 psi' },
  },
  {
    code: 'WL-04',
    name: 'Loader WL-04',
    designation: '33-28.00/3.5',
    construction: 'five-piece',
    series: 'QX-33',
    hoursPerYear: 3900,
    madeDays: 2300,
    tagFrom: 14_655_021,
    paint: 'yellow',
    positions: FOUR,
    pressure: { found: '80 psi', recommended: '83 psi' },
  },
  {
    code: 'WC-05',
    name: 'Water cart WC-05',
    designation: '25-22.00/3.0',
    construction: 'three-piece with disc',
    series: 'QX-25',
    hoursPerYear: 3000,
    madeDays: 1650,
    tagFrom: 19_400_021,
    paint: 'grey',
    positions: FOUR,
    pressure: { found: '61 psi', recommended: '65 psi' },
  },
  {
    code: 'GR-06',
    name: 'Grader GR-06',
    designation: '25-13.00/2.5',
    construction: 'three-piece',
    series: 'QX-25',
    hoursPerYear: 2500,
    madeDays: 2700,
    tagFrom: 23_118_710,
    paint: 'grey',
    positions: FOUR,
    pressure: { found: '44 psi', recommended: '46 psi' },
  },
];

/** A wheel of the fleet; its key is what the pictures call it. */
export interface DemoWheel {
  readonly key: string;
  readonly machine: DemoMachine;
  readonly position: string;
  readonly serial: number;
  readonly dual: boolean;
}

export const demoWheels: readonly DemoWheel[] = demoMachines.flatMap((machine) =>
  machine.positions.map((position, index) => ({
    key: `${machine.code} ${position}`,
    machine,
    position,
    serial: machine.tagFrom + index * 31,
    dual: /outer|inner/.test(position),
  })),
);

/** The wheel with this key. */
export function wheelOf(key: string): DemoWheel {
  return must(
    demoWheels.find((wheel) => wheel.key === key),
    `wheel ${key}`,
  );
}

export function constructionOfWheel(key: string): Construction {
  return constructionOf(wheelOf(key).machine.construction);
}

/** What is odd about a part: nobody knows when or by whom it was made, or what is in the slot at all. */
export type Odd = 'unknown age' | 'other maker' | 'unidentified';

/** Odd parts at the time the books begin, by wheel and slot. */
export const oddParts: Readonly<Record<string, Odd>> = {
  'HT-01 rear left inner|back side flange': 'unidentified',
  'HT-01 rear right outer|lock ring': 'unknown age',
  'HT-02 rear left outer|bead seat band': 'unknown age',
  'HT-02 rear right inner|back side flange': 'other maker',
  'WL-03 front right|rear lock ring': 'unknown age',
  'WL-03 rear left|rear side flange': 'other maker',
  'WL-03 rear right|rear bead seat band': 'unidentified',
  'WL-04 rear right|rim base': 'unknown age',
  'WL-04 rear right|back side flange': 'unknown age',
  'WL-04 rear right|gutter side flange': 'unknown age',
  'WL-04 rear right|bead seat band': 'unknown age',
  'WC-05 rear right|lock ring': 'other maker',
  'GR-06 front left|side flange': 'other maker',
  'GR-06 rear left|lock ring': 'unknown age',
};

/** Unidentified parts that were found out to be what they are: days before today. */
export const foundOut: Readonly<Record<string, number>> = { 'HT-01 rear left inner|back side flange': 540 };

/** Whether the books know on a day, counted back from today, what is in a slot. */
export function isIdentified(wheel: string, slot: string, days: number): boolean {
  const key = `${wheel}|${slot}`;
  return oddParts[key] !== 'unidentified' || days < (foundOut[key] ?? 0);
}

/** O-rings are renewed at every assembly and not kept in the books, except these two that were photographed. */
export const seals: readonly { readonly wheel: string; readonly fittedDays: number }[] = [
  { wheel: 'HT-02 front right', fittedDays: 22 },
  { wheel: 'WL-04 rear right', fittedDays: 298 },
];
