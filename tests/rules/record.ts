import { must } from '../../lib/base/index.ts';
import type { Mark } from '../../lib/marks/index.ts';
import { type Entry, foldInspection, foldRegister, kinds, type PhotoScale } from '../../lib/record/index.ts';
import { Evidence, gatherEvidence } from '../../lib/rules/index.ts';
import { BASE, entry, FITTING, INSPECTION, SITE, STAMPS, thing, WHEEL } from '../support/entries.ts';

export const NOW = '2026-11-02T09:30:00.000Z';
const GAUGE = thing(20);
export const LOOSE = thing(30);
export const PHOTO_A = 'a'.repeat(64);
export const PHOTO_B = 'b'.repeat(64);
export const WHEEL_BODY = {
  tag: '4KT-7Q2',
  designation: '25-22.00/3.0',
  construction: 'five-piece',
  maker: 'Quillmoor Rimworks',
  series: 'QX',
  machine: 'Loader 3',
  position: 'left front',
  dual: true,
} as const;

export const described = (component: string, over: object = {}) =>
  entry(kinds.componentDescribed, component, {
    componentKind: 'rim base',
    maker: 'Quillmoor Rimworks',
    series: 'QX',
    stamp: 'QX 8417',
    ...STAMPS,
    made: { how: 'known', on: '2019-04' },
    ...over,
  });
export const fitted = (component: string, slot: string) =>
  entry(kinds.componentFitted, component, { wheel: WHEEL, slot, ...FITTING });
export const REGISTER = [
  entry(kinds.siteDescribed, SITE, { name: 'North', tables: [], keepLocation: false, demonstration: true }),
  entry(kinds.wheelDescribed, WHEEL, WHEEL_BODY),
  entry(kinds.instrumentDescribed, GAUGE, {
    name: 'DG-1',
    kind: 'depth gauge',
    serial: '',
    resolutionMm: 0.05,
    certificateUMm: 0.03,
    calibratedOn: null,
    calibrationDue: '2030-01-01',
  }),
  described(BASE),
  fitted(BASE, 'rim base'),
];
export const inspected = <K extends keyof typeof kinds>(kind: K, body: object) =>
  entry(kinds[kind] as never, INSPECTION, body as never);

/** What the engine is given for these entries of the inspection and the register. */
export function gathered(inspection: readonly Entry[], register: readonly Entry[] = REGISTER): Evidence {
  const opened = inspected('inspectionOpened', { wheel: WHEEL, reason: 'yearly' });
  const site = foldRegister(register);
  const wheel = must(site.wheels.get(WHEEL), 'wheel');
  const evidence = gatherEvidence(foldInspection([opened, ...inspection]), wheel, site, NOW);
  return Evidence.parse(evidence);
}
export const partOf = (evidence: Evidence, slot: string) =>
  must(
    evidence.parts.find((one) => one.slot === slot),
    slot,
  );

export const depth = (n: number, over: object = {}) =>
  inspected('readingEntered', {
    reading: thing(n),
    component: BASE,
    characteristic: 'gutter depth',
    zone: 'gutter groove',
    clock: 6,
    state: null,
    typed: '11.60',
    defaultUnit: 'mm',
    valueMm: 11.6,
    instrument: GAUGE,
    repeat: 1,
    confirmed: false,
    overlap: false,
    ...over,
  });
const markBody = (n: number, over: Partial<Mark>) => ({
  mark: thing(n),
  photo: PHOTO_A,
  shape: {
    form: 'trace',
    branches: [
      [
        [0, 0],
        [40, 0],
      ],
    ],
  },
  defect: 'crack',
  component: BASE,
  zone: 'gutter weld',
  clock: 5,
  method: 'visual',
  note: 'seen',
  ...over,
});
export const mark = (n: number, over: Partial<Mark> = {}) => inspected('markDrawn', markBody(n, over));
export const redrawn = (n: number, over: Partial<Mark> = {}) => inspected('markRedrawn', markBody(n, over));
export const noted = (n: number, over: object = {}) =>
  inspected('defectNoted', {
    defectId: thing(n),
    component: BASE,
    zone: 'centre band',
    clock: null,
    defect: 'bent',
    method: 'visual',
    note: 'no photo',
    ...over,
  });
export const photo = (sha: string, over: object = {}) =>
  inspected('photoAttached', {
    photo: sha,
    name: 'p.jpg',
    bytes: 1,
    widthPx: null,
    heightPx: null,
    component: BASE,
    zone: 'gutter groove',
    clock: null,
    ...over,
  });
export const look = (zone: string, result: string, component = BASE) =>
  inspected('zoneLookedAt', { component, zone, result, note: '' });
/** An A4 sheet seen square at two pixels to the millimetre. */
const square: PhotoScale = {
  source: 'rectangle',
  corners: [
    [0, 0],
    [594, 0],
    [594, 420],
    [0, 420],
  ],
  widthMm: 297,
  heightMm: 210,
  what: 'A4 sheet',
};
/** The marks of a photo lie in the plane of what gives its scale. */
export const inPlane = (sha: string) =>
  inspected('surfaceSet', { photo: sha, surface: { form: 'plane', offsetMm: 0, offsetUMm: 0 } });
export const scale = (sha: string) => inspected('scaleSet', { photo: sha, scale: square, camera: null });
