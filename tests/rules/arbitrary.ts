import fc from 'fast-check';
import { must } from '../../lib/base/index.ts';
import { characteristicOf } from '../../lib/readings/index.ts';
import type { Evidence, PartEvidence } from '../../lib/rules/index.ts';
import { type Table, tablesNamed } from '../../lib/tolerances/index.ts';
import { constructionOf } from '../../lib/wheel/index.ts';
import { soundEvidence, tableOf, testSource } from '../support/evidence.ts';

export type DefectEvidence = PartEvidence['defects'][number];
export type TestEvidence = PartEvidence['tests'][number];

const slots = constructionOf('five-piece').slots.filter((slot) => slot.inspected);
/** The inspected slots of the sound example. */
export const SLOTS = slots.map((slot) => slot.slot);

/** Zones of a slot of the sound example. */
export function zonesOf(slot: string) {
  return must(
    slots.find((one) => one.slot === slot),
    slot,
  ).zones.map(({ zone }) => zone);
}

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const source = testSource;
/** A site's own rows of every type, for what the bundled tables do not ask; concentric with them where both ways are worse. */
const site = tableOf(
  [
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      boundsOf: 'percent lost',
      nominal: { value: 12.5, u: 0.1 },
      keep: { max: 15 },
      repair: { max: 30 },
      methods: ['gauge'],
      source,
    },
    {
      row: 'gap',
      type: 'limit',
      characteristic: 'lock-ring gap',
      states: ['free'],
      keep: { min: -60, max: -35 },
      repair: { min: -80, max: -15 },
      repairNeeds: 'upkeep',
      methods: ['gauge'],
      source,
    },
    {
      row: 'age',
      type: 'age',
      components: ['lock ring'],
      upToYears: 10,
      upToHours: 20000,
      beyond: 'scrap',
      unknown: 'hold',
      says: 'Ten years.',
      source,
    },
    {
      row: 'tested',
      type: 'test',
      components: ['lock ring'],
      zones: ['ring body'],
      methods: ['magnetic particle'],
      withinHours: 5000,
      source,
    },
    {
      row: 'twice',
      type: 'evidence',
      components: ['rim base'],
      ask: { what: 'reading', characteristic: 'gutter depth', positions: [3], repeats: 2 },
      source,
    },
    {
      row: 'pits',
      type: 'defect',
      defects: ['pitting', 'wear', 'other'],
      verdict: 'repair',
      repairUpToMm2: 500,
      says: 'Dressed.',
      source,
    },
  ],
  { table: 'site', title: 'Site limits' },
);
const simple = demonstration.map(
  (table): Table => ({ ...table, table: 'simple', decision: { rule: 'simple acceptance', risk: 0.05 } }),
);

/** Sets of tables: with and without rework, guarded and simple acceptance, one table and several on one quantity. */
export const TABLES: readonly (readonly Table[])[] = [
  demonstration,
  tablesNamed(['29 CFR 1910.177', 'demonstration-quillmoor']).tables,
  [...demonstration, site],
  simple,
  [...simple, site],
];
export const anyTables = fc.constantFrom(...TABLES);

const anySize = fc.record({
  value: fc.double({ min: 0, max: 100, noNaN: true }),
  u: fc.double({ min: 0, max: 5, noNaN: true }),
});

/** A defect of any kind in any zone of a slot, measured or not. */
export function anyDefect(slot: string): fc.Arbitrary<DefectEvidence> {
  return fc
    .record({
      defect: fc.constantFrom('crack', 'corrosion', 'pitting', 'wear', 'bent', 'broken', 'other' as const),
      zone: fc.constantFrom(...zonesOf(slot)),
      clock: fc.constantFrom(null, 3, 7.5),
      sized: fc.option(anySize),
      id: fc.nat(1e6),
    })
    .map(({ defect, zone, clock, sized, id }): DefectEvidence => {
      const area = sized === null ? null : { value: 500 * sized.value, u: 100 * sized.u };
      return {
        id: `defect ${id}`,
        defect: defect as DefectEvidence['defect'],
        zone,
        clock,
        method: 'visual',
        note: '',
        lengthMm: defect === 'crack' ? sized : null,
        areaMm2: defect === 'crack' ? null : area,
      };
    });
}

/** A test of one or two zones of a slot, before or after the verdict's day, of which the part's hours may be known. */
export function anyTest(slot: string, result: TestEvidence['result']): fc.Arbitrary<TestEvidence> {
  return fc
    .record({
      method: fc.constantFrom('magnetic particle', 'ultrasonic', 'penetrant' as const),
      zones: fc.uniqueArray(fc.constantFrom(...zonesOf(slot)), { minLength: 1, maxLength: 2 }),
      on: fc.constantFrom('2024-05-01', '2026-03-01', '2026-10-30', '2026-11-05'),
      dutyHours: fc.constantFrom(null, 9000, 14000, 16000),
      id: fc.nat(1e6),
    })
    .map(({ id, method, ...test }) => ({
      ...test,
      method: method as TestEvidence['method'],
      id: `test ${id}`,
      result,
      standard: '',
    }));
}

/** A value of a characteristic within reach of its limits in the demonstration table, from a share 0 … 1. */
function valueAt(
  characteristic: PartEvidence['readings'][number]['characteristic'],
  state: string | null,
  share: number,
): number {
  const reach: Readonly<Record<string, readonly [number, number]>> = {
    'gutter depth': [8, 13],
    'lock-ring gap': state === 'free' ? [-90, -5] : [0, 20],
  };
  const { plausible } = characteristicOf(characteristic);
  const [low, high] = reach[characteristic] ?? [0, Math.min(plausible.max, 5)];
  return low + share * (high - low);
}

const share = fc.double({ min: 0, max: 1, noNaN: true });
/** Changes that turn the sound example into any evidence with one reading per place; most parts stay sound. */
export const anyEvidence: fc.Arbitrary<Evidence> = fc
  .record({
    readings: fc.array(fc.tuple(fc.nat(60), share, fc.double({ min: 0, max: 1, noNaN: true })), {
      maxLength: 12,
    }),
    defects: fc.array(
      fc.constantFrom(...SLOTS).chain((slot) => fc.tuple(fc.constant(slot), anyDefect(slot))),
      { maxLength: 2 },
    ),
    tests: fc.array(
      fc
        .constantFrom(...SLOTS)
        .chain((slot) =>
          fc.tuple(fc.constant(slot), fc.oneof(anyTest(slot, 'indication'), anyTest(slot, 'no indication'))),
        ),
      { maxLength: 2 },
    ),
    unseen: fc.array(fc.nat(60), { maxLength: 1 }),
    hours: fc.constantFrom(null, 15000, 19990),
    made: fc.constantFrom(
      null,
      { from: '2019-01-01', to: '2019-12-31' },
      { from: '2010-01-01', to: '2010-01-01' },
    ),
    gateOpen: fc.constantFrom([], [], [], ['tyre deflated' as const, 'valve core out' as const]),
  })
  .map((drawn) => {
    const evidence = soundEvidence();
    const readings = evidence.parts.flatMap((part) => part.readings);
    for (const [index, at, uMm] of drawn.readings) {
      const one = must(readings[index % readings.length], 'reading');
      Object.assign(one, { valueMm: valueAt(one.characteristic, one.state, at), uMm });
    }
    const parts = new Map(evidence.parts.map((part) => [part.slot, part]));
    for (const [slot, defect] of drawn.defects) parts.get(slot)?.defects.push(defect);
    for (const [slot, test] of drawn.tests) parts.get(slot)?.tests.push(test);
    const looks = evidence.parts.flatMap((part) => part.looks);
    for (const index of drawn.unseen)
      Object.assign(must(looks[index % looks.length], 'look'), { result: 'could not be seen' });
    for (const part of evidence.parts)
      Object.assign(part, {
        made: drawn.made,
        dutyHours: drawn.hours === null ? null : { value: drawn.hours, u: 20 },
      });
    evidence.gateOpen.push(...drawn.gateOpen);
    return evidence;
  });
