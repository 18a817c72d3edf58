import { expect, test } from 'vitest';
import { InstrumentKind } from '../../lib/readings/index.ts';
import { atHandFor } from '../../lib/rules/index.ts';

const one = (kind: InstrumentKind) => ({
  name: kind,
  kind,
  serial: '',
  resolutionMm: 0.12,
  certificateUMm: null,
  calibratedOn: null,
  calibrationDue: '2026-06-01',
});

// Which instruments suit a quantity: common practice, no source.
test.each([
  ['gutter depth', ['depth gauge']],
  ['flange wear', ['depth gauge', 'calliper']],
  ['lock-ring gap', ['calliper', 'steel tape']],
  ['bead seat wear', ['depth gauge', 'calliper', 'feeler gauge']],
  ['pitting depth', ['depth gauge']],
  ['corrosion area', []],
  ['crack length', []],
] as const)('a quantity such as %s is measured again with %j', (characteristic, kinds) => {
  const all = InstrumentKind.options.map(one);
  // Resolution alone: 0.12 mm/√12 (JCGM 100 4.3.7).
  expect(atHandFor(characteristic, all, '2026-06-01T23:59:59.000Z')).toEqual(
    kinds.map((name) => ({ name, uMm: expect.closeTo(0.12 / Math.sqrt(12), 12) })),
  );
  expect(atHandFor(characteristic, all, '2026-06-02T00:00:00.000Z')).toEqual([]);
});
