import { expect, test } from 'vitest';
import { evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const row = { row: 'ban', type: 'no rework', says: 'No rework.', source: testSource };

test('a verdict lists the tables that were in effect on its day, first and last day included', () => {
  const dated = (table: string, from: string, until?: string) =>
    tableOf([row], { table, effectiveFrom: from, ...(until === undefined ? {} : { effectiveUntil: until }) });
  const tables = [
    dated('later', '2026-11-03'),
    dated('since that day', '2026-11-02'),
    dated('to that day', '2020-01-01', '2026-11-02'),
    dated('over', '2020-01-01', '2026-11-01'),
    ...tablesNamed(['29 CFR 1910.177']).tables,
  ];
  const listed = evaluate(soundEvidence(), tables).tables.map((one) => one.table);
  expect(listed).toEqual(['since that day', 'to that day', '29 CFR 1910.177']);
});
