import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { evaluate, type LimitFinding, type ReadingEvidence } from '../../lib/rules/index.ts';
import { depthLimit, part, reading, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const row = (over: object = {}) =>
  depthLimit({ keep: { min: 10, max: 14 }, repair: { min: 9, max: 15 }, ...over });
const BAN = { row: 'ban', type: 'no rework', says: 'No heat.', source: testSource };

/** Limit findings of the rim base when these are all of its readings. */
function findingsOf(readings: readonly ReadingEvidence[], rows: readonly object[], decision = {}) {
  const evidence = soundEvidence();
  part(evidence, 'rim base').readings = [...readings];
  const table = tableOf([...rows], { decision: { rule: 'guarded', risk: 0.05, ...decision } });
  return must(evaluate(evidence, [table]).parts[0], 'rim base').findings.filter(
    (one): one is LimitFinding => one.about === 'limit',
  );
}
const one = (...given: Parameters<typeof findingsOf>) => must(findingsOf(...given)[0], 'finding');
const classAt = (limit: object, valueMm: number, uMm = 0) => one([reading({ valueMm, uMm })], [limit]).class;

/** Ends belong to the bounds (JCGM 106:2012 3.3.5, from memory: the interval of permissible values). */
describe('every bound of a limit, below, at and above, without uncertainty', () => {
  const sided = (keep: object, repair: object | null) => row({ keep, repair });
  const nominal = { nominal: { value: 12.5 } };
  const from = row({
    boundsOf: 'from nominal',
    ...nominal,
    keep: { min: -2, max: 1 },
    repair: { min: -3, max: 2 },
  });
  const lost = row({
    boundsOf: 'percent lost',
    ...nominal,
    keep: { min: -4, max: 8 },
    repair: { min: -8, max: 16 },
  });
  test.each<[name: string, limit: object, values: string]>([
    ['one-sided, at least', sided({ min: 10 }, null), '9.99 scrap, 10 keep, 10.01 keep'],
    ['one-sided, at most', sided({ max: 14 }, null), '13.99 keep, 14 keep, 14.01 scrap'],
    [
      'one-sided with repair, at least',
      sided({ min: 10 }, { min: 9 }),
      '8.99 scrap, 9 repair, 9.01 repair, 9.99 repair, 10 keep, 10.01 keep',
    ],
    [
      'one-sided with repair, at most',
      sided({ max: 14 }, { max: 15 }),
      '13.99 keep, 14 keep, 14.01 repair, 14.99 repair, 15 repair, 15.01 scrap',
    ],
    [
      'two-sided with repair',
      row(),
      '8.99 scrap, 9 repair, 9.01 repair, 9.99 repair, 10 keep, 10.01 keep, 13.99 keep, 14 keep, 14.01 repair, 14.99 repair, 15 repair, 15.01 scrap',
    ],
    [
      'from the new size of 12.5 mm: 10.5 to 13.5 mm, repair 9.5 to 14.5 mm',
      from,
      '9.49 scrap, 9.5 repair, 9.51 repair, 10.49 repair, 10.5 keep, 10.51 keep, 13.49 keep, 13.5 keep, 13.51 repair, 14.49 repair, 14.5 repair, 14.51 scrap',
    ],
    [
      'percent lost of 12.5 mm: 11.5 to 13 mm, repair 10.5 to 13.5 mm',
      lost,
      '10.49 scrap, 10.5 repair, 10.51 repair, 11.49 repair, 11.5 keep, 11.51 keep, 12.99 keep, 13 keep, 13.01 repair, 13.49 repair, 13.5 repair, 13.51 scrap',
    ],
  ])('%s', (_name, limit, values) => {
    const said = values
      .split(', ')
      .map((one) => `${one.split(' ')[0]} ${classAt(limit, Number.parseFloat(one))}`);
    expect(said.join(', ')).toBe(values);
  });
});

describe('every bound with its guard band of 1.645 u (5 %: ISO 14253-1, ILAC-G8:09/2019)', () => {
  test.each([
    [8.99 + 0.1645, 'scrap'],
    [9.01 + 0.1645, 'repair'],
    [9.99 + 0.1645, 'repair'],
    [10.01 + 0.1645, 'keep'],
    [13.99 - 0.1645, 'keep'],
    [14.01 - 0.1645, 'repair'],
    [14.99 - 0.1645, 'repair'],
    [15.01 - 0.1645, 'scrap'],
  ])('%d mm with u = 0.1 mm: %s', (value, expected) => {
    expect(classAt(row(), value, 0.1)).toBe(expected);
  });

  test('another risk has another band: 2.326 u for 1 % (standard normal table)', () => {
    const at = (value: number) => one([reading({ valueMm: value, uMm: 0.1 })], [row()], { risk: 0.01 }).class;
    expect([at(10.01 + 0.2326), at(9.99 + 0.2326)]).toEqual(['keep', 'repair']);
  });

  test('the u of the new size widens it: 3 and 4 make 5', () => {
    const limit = row({
      boundsOf: 'from nominal',
      nominal: { value: 12.5, u: 0.04 },
      keep: { min: -2 },
      repair: null,
    });
    // 10.5 mm + 1.645 × 0.05 mm = 10.582 mm.
    expect([classAt(limit, 10.584, 0.03), classAt(limit, 10.58, 0.03)]).toEqual(['keep', 'scrap']);
  });
});

describe('the finding of a quantity', () => {
  test('holds the numbers it was decided by', () => {
    const finding = one(
      [reading({ valueMm: 10.1, uMm: 0.1 })],
      [row({ keep: { min: 10 }, repair: { min: 9.9 } })],
    );
    expect(finding).toMatchObject({
      characteristic: 'gutter depth',
      zone: 'gutter groove',
      state: null,
      keep: { min: 10 },
      repair: { min: 9.9 },
      risk: 0.05,
      decisionRule: 'guarded',
      margin: expect.closeTo(0.1, 12),
      // Φ(−1) and Φ(−2) (standard normal table).
      beyondKeep: expect.closeTo(0.158655254, 9),
      beyondRepair: expect.closeTo(0.022750132, 9),
      guardedClass: 'repair',
      simpleClass: 'keep',
      class: 'repair',
      noRework: null,
      rule: { table: 'test table', edition: '1', row: 'depth' },
    });
    for (const absent of ['relative', 'reworkForbidden', 'others'])
      expect(finding).not.toHaveProperty(absent);
  });

  test('without repair being beyond repair is being beyond keep', () => {
    const finding = one([reading({ valueMm: 10.1, uMm: 0.1 })], [row({ keep: { min: 10 }, repair: null })]);
    const beyond = expect.closeTo(0.158655254, 9);
    expect(finding).toMatchObject({ repair: null, beyondKeep: beyond, beyondRepair: beyond, class: 'scrap' });
  });

  test('margins are to the nearest bound, negative beyond it', () => {
    const margin = (valueMm: number, keep: object) =>
      one([reading({ valueMm, uMm: 0 })], [row({ keep, repair: null })]).margin;
    expect([margin(11, { min: 10, max: 14 }), margin(13.5, { min: 10, max: 14 })]).toEqual([1, 0.5]);
    expect([margin(9, { min: 10 }), margin(15, { max: 14 }), margin(12, { max: 14 })]).toEqual([-1, -1, 2]);
  });

  test('says how its bounds are counted where they are not of the value itself', () => {
    const nominal = { value: 12.5, u: 0.1 };
    const from = row({ boundsOf: 'from nominal', nominal, keep: { min: -2 }, repair: null });
    expect(one([reading()], [from])).toMatchObject({
      keep: { min: 10.5 },
      repair: null,
      relative: { boundsOf: 'from nominal', nominal, keep: { min: -2 }, repair: null },
    });
    expect(one([reading()], [row({ boundsOf: 'value', nominal })])).not.toHaveProperty('relative');
    expect(one([reading()], [row({ nominal })])).not.toHaveProperty('relative');
  });

  test('a repair that needs rework is scrap where rework is not on offer, and says so where it could have been', () => {
    const under = (valueMm: number, over: object = {}) =>
      one([reading({ valueMm, uMm: 0 })], [row(over), BAN]);
    expect(under(9.5)).toMatchObject({
      class: 'scrap',
      guardedClass: 'repair',
      noRework: { row: 'ban' },
      reworkForbidden: true,
    });
    expect(under(12)).toMatchObject({ class: 'keep', noRework: null, reworkForbidden: true });
    expect(under(8)).toMatchObject({ class: 'scrap', noRework: null, reworkForbidden: true });
    const upkeep = under(9.5, { repairNeeds: 'upkeep' });
    expect(upkeep).toMatchObject({ class: 'repair', noRework: null });
    expect(upkeep).not.toHaveProperty('reworkForbidden');
    expect(under(8, { repair: null })).not.toHaveProperty('reworkForbidden');
  });
});

describe('which place governs', () => {
  const at = (clock: number, valueMm: number, uMm: number) =>
    reading({ id: `r${clock}`, clock, valueMm, uMm });
  const governing = (readings: ReadingEvidence[], limit: object = row(), decision = {}) =>
    one(readings, [limit], decision).governing.clock;

  test('the worse class first, by the rule of the table', () => {
    const readings = [at(3, 9.9, 0.001), at(6, 10.2, 2)];
    expect(governing(readings)).toBe(6);
    expect(governing(readings, row(), { rule: 'simple acceptance' })).toBe(3);
  });

  test('in one class the likelier beyond repair, then beyond keep, then the smaller margin', () => {
    expect(governing([at(3, 10.5, 0.6), at(6, 10.6, 0.7)])).toBe(6);
    // Beyond repair is as good as ruled out: 1.4 standard uncertainties from the bound of keep against four.
    expect(
      governing([at(3, 12, 0.5), at(6, 13.3, 0.5), at(9, 12, 0.5)], row({ repair: { min: 0, max: 100 } })),
    ).toBe(6);
    // Without uncertainty no chance is left, only the margin.
    expect(governing([at(3, 12, 0), at(6, 13.5, 0), at(9, 10.6, 0)])).toBe(6);
  });
});

describe('which readings and rows meet', () => {
  const gap = (state: 'free' | 'fitted' | null, id: string) =>
    reading({ id, characteristic: 'lock-ring gap', zone: 'ring ends', clock: null, state, valueMm: 10 });

  test('quantities are told apart by characteristic, zone and state, in one order', () => {
    const pit = (zone: 'gutter lip' | 'centre band', id: string) =>
      reading({ id, characteristic: 'pitting depth', zone, valueMm: 0.1 });
    const rows = [
      row({ components: undefined }),
      row({
        row: 'pit',
        components: undefined,
        characteristic: 'pitting depth',
        keep: { max: 1 },
        repair: null,
      }),
    ];
    const readings = [pit('gutter lip', 'a'), reading({ id: 'b', valueMm: 12 }), pit('centre band', 'c')];
    const told = (list: ReadingEvidence[]) =>
      findingsOf(list, rows).map((it) => [it.characteristic, it.zone]);
    expect(told(readings)).toEqual([
      ['gutter depth', 'gutter groove'],
      ['pitting depth', 'centre band'],
      ['pitting depth', 'gutter lip'],
    ]);
    expect(told([...readings].reverse())).toEqual(told(readings));
  });

  test('a row for states speaks of those alone, a row without of every one', () => {
    const limit = { characteristic: 'lock-ring gap', components: undefined };
    const states = (over: object) =>
      findingsOf([gap('free', 'a'), gap('fitted', 'b'), gap(null, 'c')], [row({ ...limit, ...over })]).map(
        (it) => it.state,
      );
    expect(states({ states: ['fitted'] })).toEqual(['fitted']);
    expect(states({})).toEqual([null, 'fitted', 'free']);
  });

  test('a row takes only readings by its methods', () => {
    const readings = [
      reading({ id: 'g', valueMm: 12 }),
      reading({ id: 'p', valueMm: 9.5, method: 'photo', instrument: null }),
    ];
    const used = (methods: string[]) =>
      one(readings, [row({ methods })]).positions.flatMap((it) => it.readings);
    expect(used(['gauge'])).toEqual(['g']);
    expect(used(['photo'])).toEqual(['p']);
    expect(used(['gauge', 'photo'])).toEqual(['g', 'p']);
  });
});
