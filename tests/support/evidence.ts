import { must } from '../../lib/base/index.ts';
import soundFivePiece from '../../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import type { Evidence, PartEvidence, ReadingEvidence } from '../../lib/rules/index.ts';
import { readInspectionFile } from '../../lib/rules/index.ts';
import { parseTable, type Table } from '../../lib/tolerances/index.ts';

export type Defect = PartEvidence['defects'][number];

/** Evidence of a five-piece rim in which every part is keep under the demonstration table; a fresh copy each time. */
export function soundEvidence(): Evidence {
  const read = readInspectionFile(structuredClone(soundFivePiece));
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return structuredClone(read.value.evidence);
}

/** The part in a slot of some evidence. */
export function part(evidence: Evidence, slot: string): PartEvidence {
  return must(
    evidence.parts.find((one) => one.slot === slot),
    slot,
  );
}

/** A reading with a good instrument; what the test is about overrides. */
export function reading(over: Partial<ReadingEvidence> = {}): ReadingEvidence {
  return {
    id: 'r1',
    characteristic: 'gutter depth',
    zone: 'gutter groove',
    clock: 6,
    state: null,
    valueMm: 11,
    uMm: 0.05,
    method: 'gauge',
    typed: '11',
    instrument: { name: 'gauge', calibrationDue: '2030-01-01', expired: false },
    ...over,
  };
}

/** A crack in the gutter weld found by eye, its size not known; what the test is about overrides. */
export function defect(over: Partial<Defect> = {}): Defect {
  return {
    id: 'd',
    defect: 'crack',
    zone: 'gutter weld',
    clock: 5,
    method: 'visual',
    note: '',
    lengthMm: null,
    areaMm2: null,
    ...over,
  };
}

/** Sets every reading of a characteristic in a slot to one value with an uncertainty. */
export function setAll(
  evidence: Evidence,
  slot: string,
  characteristic: string,
  valueMm: number,
  uMm: number,
): void {
  for (const one of part(evidence, slot).readings) {
    if (one.characteristic === characteristic) {
      one.valueMm = valueMm;
      one.uMm = uMm;
    }
  }
}

/** A table with the given rows, any maker, default decision; throws when it is not a table. */
export function tableOf(rows: object[], over: object = {}): Table {
  const parsed = parseTable({
    table: 'test table',
    title: 'Test table',
    edition: '1',
    issuedBy: 'tests',
    scope: {},
    effectiveFrom: '2000-01-01',
    decision: { rule: 'guarded', risk: 0.05 },
    rows,
    ...over,
  });
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}

export const testSource = { title: 'Test', kind: 'demonstration' };

/** A limit on the gutter depth of the rim base for a gauge: keep from 10 mm, repair from 9 mm. */
export const depthLimit = (over: object = {}) => ({
  row: 'depth',
  type: 'limit',
  components: ['rim base'],
  characteristic: 'gutter depth',
  keep: { min: 10 },
  repair: { min: 9 },
  methods: ['gauge'],
  source: testSource,
  ...over,
});

/** A limit on the age of a lock ring; the test says which. */
export const ageRow = (over: object = {}) => ({
  row: 'age',
  type: 'age',
  components: ['lock ring'],
  beyond: 'scrap',
  unknown: 'hold',
  says: 'It tires.',
  source: testSource,
  ...over,
});
