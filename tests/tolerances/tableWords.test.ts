import { describe, expect, test } from 'vitest';
import { parseTable } from '../../lib/tolerances/index.ts';
import {
  problemsIn,
  reading,
  side,
  sound,
  source,
  type Type,
  tableOfRow,
  tableWith,
} from './faulty/sound.ts';

/** The table that a sound candidate makes. */
function tableFrom(candidate: object) {
  const parsed = parseTable(candidate);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
  return parsed.value;
}
const rowFrom = (type: Type, over: object = {}) => tableFrom(tableOfRow(type, over)).rows[0];

describe('what is left out of a table', () => {
  test('a scope of anything, and a risk of one in twenty', () => {
    expect(tableFrom(tableWith({}))).toMatchObject({
      scope: { makers: [], series: [], constructions: [] },
      decision: { rule: 'guarded', risk: 0.05 },
    });
  });

  test('a source without section, page and edition, and no note', () => {
    for (const type of Object.keys(sound) as Type[]) {
      expect(rowFrom(type)).toMatchObject({
        note: '',
        source: { ...source, section: '', page: '', edition: '' },
      });
    }
  });

  test.each(['limit', 'defect', 'age'] as const)('a repair of type %s needs rework', (type) => {
    expect(rowFrom(type)).toMatchObject({ repairNeeds: 'rework' });
    expect(rowFrom(type, { repairNeeds: 'upkeep' })).toMatchObject({ repairNeeds: 'upkeep' });
  });

  test('a nominal size is exact', () => {
    expect(rowFrom('limit', { boundsOf: 'from nominal', nominal: { value: 40 } })).toMatchObject({
      nominal: { value: 40, u: 0 },
    });
  });
});

describe('the longest and the most that a table takes', () => {
  const of = (length: number) => 'x'.repeat(length);

  test.each([
    ['identity', { table: of(80) }],
    ['title', { title: of(200) }],
    ['edition', { edition: of(160) }],
    ['issuer', { issuedBy: of(120) }],
    ['risk', { decision: { rule: 'guarded', risk: 0.499 } }],
    ['rows', { rows: Array.from({ length: 5000 }, (_, i) => ({ ...sound.defect, row: `${i}` })) }],
  ])('%s', (_, over) => {
    expect(problemsIn(tableWith(over))).toEqual([]);
  });

  test('not one row more', () => {
    const rows = Array.from({ length: 5001 }, (_, i) => ({ ...sound.defect, row: `${i}` }));
    expect(problemsIn(tableWith({ rows })).map(({ field, message }) => [field, message])).toEqual([
      ['rows', 'Too big: expected array to have <=5000 items'],
    ]);
  });

  const rows: readonly (readonly [name: string, type: Type, over: object])[] = [
    ['name', 'no rework', { row: of(60) }],
    ['note', 'no rework', { note: of(500) }],
    ['what is said', 'no rework', { says: of(400) }],
    ['what is said of a defect', 'defect', { says: of(400) }],
    ['what is said of an age', 'age', { says: of(400) }],
    ['what is said of pairs', 'match', { says: of(400) }],
    [
      'source',
      'defect',
      { source: { ...source, title: of(200), section: of(120), page: of(40), edition: of(160) } },
    ],
    ['months', 'test', { withinMonths: 240 }],
    ['pairs', 'match', { pairs: Array.from({ length: 500 }, () => [side, side]) }],
    ['maker and series', 'match', { pairs: [[side, { maker: of(80), series: of(80) }]] }],
    ['repeats', 'evidence', { ask: { ...reading, repeats: 20 } }],
  ];
  test.each(rows)('%s', (_, type, over) => {
    expect(problemsIn(tableOfRow(type, over))).toEqual([]);
  });
});

describe('the shortest and the least that a table takes', () => {
  const rows: readonly (readonly [name: string, type: Type, over: object])[] = [
    ['name', 'no rework', { row: 'x' }],
    ['what is said', 'no rework', { says: 'x' }],
    ['what is said of a defect', 'defect', { says: 'x' }],
    ['what is said of an age', 'age', { says: 'x' }],
    ['what is said of pairs', 'match', { says: 'x' }],
    ['month', 'test', { withinMonths: 1 }],
    ['part of an hour', 'test', { withinHours: 0.1 }],
    ['one of each', 'limit', { components: ['rim base'], zones: ['gutter groove'], states: ['free'] }],
    ['uncertainty', 'limit', { boundsOf: 'from nominal', nominal: { value: 0.1, u: 0 } }],
    ['repeat at the first position', 'evidence', { ask: { ...reading, positions: [0.5], repeats: 1 } }],
  ];
  test.each(rows)('%s', (_, type, over) => {
    expect(problemsIn(tableOfRow(type, over))).toEqual([]);
  });

  test('names and titles of one character', () => {
    const one = { table: 'x', title: 'x', edition: 'x', issuedBy: 'x' };
    const scope = { makers: ['x'], series: ['x'], components: ['rim base'] };
    expect(problemsIn(tableWith({ ...one, scope }))).toEqual([]);
    expect(problemsIn(tableWith({ decision: { rule: 'guarded', risk: 1e-9 } }))).toEqual([]);
  });
});

/** Lists of objects in a table take the members they know and no others: what was meant by another would be lost. */
describe('a member that is not known is refused', () => {
  const rows: readonly (readonly [where: string, type: Type, over: object, field: string])[] = [
    ...(Object.keys(sound) as Type[]).map(
      (type) => [`row of type ${type}`, type, { colour: 1 }, 'colour'] as const,
    ),
    ['source', 'defect', { source: { ...source, colour: 1 } }, 'source.colour'],
    ['bounds', 'limit', { keep: { min: 10, colour: 1 } }, 'keep.colour'],
    ['nominal size', 'limit', { nominal: { value: 1, colour: 1 } }, 'nominal.colour'],
    ['diameters', 'defect', { diameterCodes: { min: 1, max: 2, colour: 1 } }, 'diameterCodes.colour'],
    ['side of a pair', 'match', { pairs: [[side, { ...side, colour: 1 }]] }, 'pairs.0.1.colour'],
    ['reading asked for', 'evidence', { ask: { ...reading, colour: 1 } }, 'ask.colour'],
  ];
  test.each(rows)('in a %s', (_, type, over, field) => {
    expect(problemsIn(tableOfRow(type, over)).map((one) => one.field)).toEqual([`rows.0.${field}`]);
  });

  test('in the decision', () => {
    const decision = { rule: 'guarded', colour: 1 };
    expect(problemsIn(tableWith({ decision })).map((one) => one.field)).toEqual(['decision.colour']);
  });
});
