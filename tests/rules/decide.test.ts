import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { foldInspection, foldRegister, kinds } from '../../lib/record/index.ts';
import { decide } from '../../lib/rules/index.ts';
import { foldTables } from '../../lib/tolerances/index.ts';
import { entry, INSPECTION, SITE, thing, WHEEL } from '../support/entries.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const AT = '2026-10-01T00:00:00.000Z';
const own = tableOf(
  [
    {
      row: 'depth',
      type: 'limit',
      characteristic: 'gutter depth',
      keep: { min: 10 },
      repair: null,
      methods: ['gauge'],
      source: testSource,
    },
  ],
  { table: 'own' },
);
const drafted = entry(
  kinds.tableDrafted,
  thing(40),
  { content: { ...own }, base: null, note: '' },
  { ms: 0, author: 'lead' },
);

const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'yearly' });
const registerNaming = (tables: readonly string[]) =>
  foldRegister([
    entry(kinds.siteDescribed, SITE, {
      name: 'S',
      tables: [...tables],
      keepLocation: false,
      demonstration: true,
    }),
    entry(kinds.wheelDescribed, WHEEL, {
      tag: '4K7-P3F',
      designation: '25-17.00/2.0',
      construction: 'three-piece',
      maker: '',
      series: '',
      machine: '',
      position: '',
      dual: false,
    }),
  ]);

function decision(tables: readonly string[], onFile = foldTables([])) {
  const register = registerNaming(tables);
  const wheel = must(register.wheels.get(WHEEL), 'the wheel');
  return decide(foldInspection([opened]), wheel, register, onFile, AT);
}
const rules = ({ verdict }: ReturnType<typeof decision>) =>
  verdict.parts.map((part) => part.missing.filter((one) => one.what === 'rule').map((one) => one.text));

describe('a verdict from the record', () => {
  test('holds every part while no edition of a table that the site names is in effect', () => {
    const held = decision(['demonstration-quillmoor', 'own'], foldTables([drafted]));
    expect(held.without).toEqual(['own']);
    expect(held.verdict.inputs.tablesWithout).toEqual(['own']);
    for (const texts of rules(held)) {
      expect(texts).toEqual(['"own" is named among the limits in force, and no edition of it is in effect.']);
    }
    expect(held.verdict.parts.map((part) => part.result)).toEqual(['hold', 'hold', 'hold']);
  });

  test('says nothing of tables where every one that the site names counts', () => {
    const sound = decision(['demonstration-quillmoor']);
    expect(sound.without).toEqual([]);
    expect(sound.verdict.inputs).not.toHaveProperty('tablesWithout');
    expect(sound.verdict.tables.map((table) => table.table)).toEqual(['demonstration-quillmoor']);
  });

  test('counts an edition of a newer version as an entry that cannot be read, if the site names it', () => {
    const newer = foldTables([{ ...drafted, v: 99 }]);
    expect(decision(['own'], newer).verdict.inputs.unreadable).toBe(1);
    expect(decision(['demonstration-quillmoor'], newer).verdict.inputs.unreadable).toBe(0);
  });

  test('counts an edition of which not even the name can be read, and adds up what cannot be read', () => {
    const nameless = { id: thing(41), names: [''], problems: [] };
    const count = (...names: string[][]) =>
      decision(['own'], {
        ...foldTables([]),
        unreadable: names.map((one) => ({ ...nameless, names: one })),
      }).verdict.inputs.unreadable;
    expect(count([''])).toBe(1);
    expect(count(['other'])).toBe(0);
    expect(count(['other', 'own'], [''])).toBe(2);
  });

  test('has no limits where the site is not described', () => {
    const wheel = must(registerNaming(['own']).wheels.get(WHEEL), 'the wheel');
    const { verdict, without } = decide(
      foldInspection([opened]),
      wheel,
      foldRegister([]),
      foldTables([]),
      AT,
    );
    expect([verdict.tables, without]).toEqual([[], []]);
  });
});
