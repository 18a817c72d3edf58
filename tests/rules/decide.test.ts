import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { decide } from '../../lib/rules/index.ts';
import { type TablesOnFile, tableHash } from '../../lib/tolerances/index.ts';
import { entry, SITE, WHEEL } from '../support/entries.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { depth, inspected, NOW, REGISTER } from './record.ts';

const table = tableOf(
  [
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      keep: { min: 12 },
      repair: null,
      methods: ['gauge'],
      source: testSource,
    },
  ],
  { table: 'limits' },
);
const said = { author: 'a', at: '2026-01-01T00:00:00.000Z', note: '' };
const hash = tableHash(table);
const onFile: TablesOnFile = {
  tables: [
    {
      id: 'x',
      state: 'approved',
      table,
      hash,
      drafts: [{ ...said, hash, table }],
      approved: { ...said, author: 'b' },
      withdrawn: null,
    },
  ],
  unreadable: [],
};
const unreadable = (name: string) => ({ id: name, table: name, problems: [] });

/** The decision at a site whose tables in force are these. */
function decided(named: readonly string[] | null, file: TablesOnFile = onFile) {
  const site = { name: 'North', keepLocation: false, demonstration: true };
  const register = foldRegister([
    ...REGISTER.filter((one) => one.subject.type !== 'site'),
    ...(named === null ? [] : [entry(kinds.siteDescribed, SITE, { ...site, tables: [...named] })]),
  ]);
  const inspection = foldInspection([
    inspected('inspectionOpened', { wheel: WHEEL, reason: 'yearly' }),
    depth(1),
  ]);
  return decide(inspection, must(register.wheels.get(WHEEL), 'wheel'), register, file, NOW);
}

/** Which tables count at a site is our own specification (README, "Tolerance tables"). */
describe('a decision at a wheel', () => {
  test('rests on the evidence of the record and the tables in force at the site', () => {
    const { verdict, without } = decided(['limits']);
    expect(without).toEqual([]);
    expect(verdict.tables.map((one) => one.table)).toEqual(['limits']);
    expect(verdict.inputs).toMatchObject({ decidedAt: NOW, unreadable: 0 });
    // 11.6 mm against at least 12 mm.
    expect(verdict.parts[0]).toMatchObject({ slot: 'rim base', result: 'scrap' });
  });

  test('leaves out tables that the site does not name, and says which it names in vain', () => {
    expect(decided([]).verdict.tables).toEqual([]);
    expect(decided(null)).toMatchObject({ without: [], verdict: { tables: [] } });
    expect(decided(['limits', 'lost']).without).toEqual(['lost']);
  });

  test('an edition that cannot be read counts as an unreadable entry where the site names it or its name is lost', () => {
    const count = (...names: string[]) =>
      decided(['limits'], { ...onFile, unreadable: names.map(unreadable) }).verdict.inputs.unreadable;
    expect(count('limits')).toBe(1);
    expect(count('')).toBe(1);
    expect(count('other')).toBe(0);
    expect(count('limits', '', 'other')).toBe(2);
  });

  test('editions and entries that cannot be read are added up', () => {
    const register = foldRegister([
      ...REGISTER,
      entry(kinds.siteDescribed, SITE, {
        name: 'North',
        tables: ['limits'],
        keepLocation: false,
        demonstration: true,
      }),
    ]);
    const opened = inspected('inspectionOpened', { wheel: WHEEL, reason: 'yearly' });
    const dreamt = { ...depth(2), kind: 'reading dreamt' };
    const { verdict } = decide(
      foldInspection([opened, dreamt as typeof opened]),
      must(register.wheels.get(WHEEL), 'wheel'),
      register,
      { ...onFile, unreadable: [unreadable('limits')] },
      NOW,
    );
    expect(verdict.inputs.unreadable).toBe(2);
  });
});
