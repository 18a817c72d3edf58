import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type AgeFinding, evaluate, probabilityOlder } from '../../lib/rules/index.ts';
import { ageRow, part, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

type Made = { from: string; to: string } | null;
type Hours = { value: number; u: number } | null;
const day = (date: string) => ({ from: date, to: date });
const BAN = { row: 'ban', type: 'no rework', says: 'No heat.', source: testSource };

/** The lock ring on 2026-06-01 under rows of age alone. */
function ring(made: Made, dutyHours: Hours, rows: readonly object[], decision = {}) {
  const evidence = { ...soundEvidence(), decidedAt: '2026-06-01T12:00:00.000Z' };
  Object.assign(part(evidence, 'lock ring'), { made, dutyHours });
  const table = tableOf([...rows], { decision: { rule: 'guarded', risk: 0.05, ...decision } });
  const { findings, missing } = must(
    evaluate(evidence, [table]).parts.find((one) => one.slot === 'lock ring'),
    'ring',
  );
  return {
    findings: findings.filter((one): one is AgeFinding => one.about === 'age'),
    missing: missing.filter((one) => one.what === 'age').map((one) => one.text),
  };
}
const classes = (...given: Parameters<typeof ring>) => ring(...given).findings.map((one) => one.class);

/** A day of making somewhere in a range: rectangular (JCGM 100 4.3.7); the rest is our own specification. */
describe('the probability of being older', () => {
  test.each([
    ['2016-06-02', 10, 0],
    ['2016-06-01', 10, 0],
    ['2016-05-31', 10, 1],
    ['2016-12-01', 9.5, 0],
    ['2016-11-30', 9.5, 1],
  ])('made on %s, %d years allowed: %d', (made, years, expected) => {
    expect(probabilityOlder(day(made), years, '2026-06-01')).toBe(expected);
  });

  test('of ten days, both ends included, each counts a tenth', () => {
    const made = { from: '2016-05-25', to: '2016-06-03' };
    // 25 to 31 May lie before 1 June: 7 of 10.
    expect(probabilityOlder(made, 10, '2026-06-01')).toBeCloseTo(0.7, 12);
  });
});

describe('years', () => {
  const years = ageRow({ upToYears: 10 });
  // 366 days of making: 18 of them are 4.9 %, 19 are 5.2 %.
  const range = (beyond: number) => {
    const from = new Date(Date.UTC(2016, 5, 1) - beyond * 86_400_000).toISOString().slice(0, 10);
    const to = new Date(Date.UTC(2016, 5, 1) + (365 - beyond) * 86_400_000).toISOString().slice(0, 10);
    return { from, to };
  };

  test('guarded: beyond the risk of the table, and not before', () => {
    expect(classes(range(18), null, [years])).toEqual(['keep']);
    expect(classes(range(19), null, [years])).toEqual(['scrap']);
    expect(classes(range(19), null, [years], { risk: 0.1 })).toEqual(['keep']);
  });

  test('by simple acceptance: where it is likelier than not', () => {
    const simple = { rule: 'simple acceptance' };
    expect(classes(range(183), null, [years], simple)).toEqual(['keep']);
    expect(classes(range(184), null, [years], simple)).toEqual(['scrap']);
  });
});

describe('hours on duty', () => {
  const hours = (over: object = {}) => ageRow({ upToHours: 20000, ...over });

  test.each([
    [19999, 'keep'],
    [20000, 'keep'],
    [20001, 'scrap'],
  ])('%d h of 20000 h without uncertainty: %s', (value, expected) => {
    expect(classes(null, { value, u: 0 }, [hours()])).toEqual([expected]);
    // When it was made does not matter where the row does not ask for it, nor hours where it asks for years.
    expect(classes(day('1990-01-01'), { value, u: 0 }, [hours()])).toEqual([expected]);
  });

  test('do not matter to a row that asks for years', () => {
    const years = ageRow({ upToYears: 10 });
    expect(classes(day('2010-01-01'), { value: 1, u: 0 }, [years])).toEqual(['scrap']);
    expect(classes(day('2020-01-01'), { value: 1e6, u: 0 }, [years])).toEqual(['keep']);
  });

  test('guarded by their uncertainty: 20000 h less 1.645 u (JCGM 106:2012 8.3.2, from memory)', () => {
    expect(classes(null, { value: 19835, u: 100 }, [hours()])).toEqual(['keep']);
    expect(classes(null, { value: 19836, u: 100 }, [hours()])).toEqual(['scrap']);
  });

  test('years and hours: whichever comes first', () => {
    const both = hours({ upToYears: 10 });
    const [young, old] = [day('2020-01-01'), day('2010-01-01')];
    expect(classes(young, { value: 20001, u: 0 }, [both])).toEqual(['scrap']);
    expect(classes(old, { value: 1, u: 0 }, [both])).toEqual(['scrap']);
    expect(classes(young, { value: 1, u: 0 }, [both])).toEqual(['keep']);
  });
});

describe('what nobody knows', () => {
  const both = (over: object = {}) => ageRow({ upToYears: 10, upToHours: 20000, ...over });
  const gap = (what: string) => `Nobody knows ${what}, and a limit depends on it (Test, demonstration).`;

  test('holds the part, and there is no finding where nothing is known', () => {
    expect(ring(null, null, [both()])).toEqual({
      findings: [],
      missing: [gap('when it was made or its hours on duty')],
    });
    expect(ring(null, null, [ageRow({ upToYears: 10 })]).missing).toEqual([gap('when it was made')]);
    expect(ring(null, null, [ageRow({ upToHours: 9 })]).missing).toEqual([gap('its hours on duty')]);
  });

  test('holds the part beside what the known half says', () => {
    const half = ring(day('2020-01-01'), null, [both()]);
    expect(half).toMatchObject({
      findings: [{ class: 'keep', unknown: ['its hours on duty'], beyond: 0 }],
      missing: [gap('its hours on duty')],
    });
    expect(ring(null, { value: 20001, u: 0 }, [both()])).toMatchObject({
      findings: [{ class: 'scrap', unknown: ['when it was made'], beyond: 1 }],
      missing: [gap('when it was made')],
    });
  });

  test('gives the class that the row says, or the worse one of the known half', () => {
    const unknown = (is: string, beyond = 'scrap') => [both({ unknown: is, beyond, repairNeeds: 'upkeep' })];
    expect(ring(null, null, unknown('repair'))).toMatchObject({
      findings: [{ class: 'repair', beyond: null }],
      missing: [],
    });
    expect(classes(day('2010-01-01'), null, unknown('repair'))).toEqual(['scrap']);
    expect(classes(day('2010-01-01'), null, unknown('scrap', 'repair'))).toEqual(['scrap']);
    expect(classes(day('2020-01-01'), null, unknown('repair'))).toEqual(['repair']);
    // Known is known: what the row says of the unknown does not count.
    expect(classes(day('2020-01-01'), { value: 1, u: 0 }, unknown('scrap'))).toEqual(['keep']);
  });
});

describe('the finding', () => {
  test('says all that it rests on', () => {
    const { findings } = ring(day('2016-05-31'), { value: 15000, u: 100 }, [
      ageRow({ upToYears: 10, upToHours: 20000 }),
    ]);
    expect(findings).toEqual([
      {
        about: 'age',
        made: day('2016-05-31'),
        dutyHours: { value: 15000, u: 100 },
        unknown: [],
        beyond: 1,
        class: 'scrap',
        rule: expect.objectContaining({ table: 'test table', row: 'age' }),
        noRework: null,
        basis: { on: '2026-06-01', upToYears: 10, upToHours: 20000, says: 'It tires.' },
        sentence:
          'Age: made on 2016-05-31, 10.0 years old; the limit is 10 years; 15000 h ± 200 h on duty (k = 2); the limit is 20000 h. It tires. (Test, demonstration). Beyond with probability over 99.9 %.',
      },
    ]);
  });

  type Over = { upToYears?: number; upToHours?: number; unknown: string; repairNeeds?: string };
  test.each<[string, Made, Over, string]>([
    [
      'a range of making and unknown hours',
      { from: '2016-01-01', to: '2016-12-31' },
      { upToYears: 10, upToHours: 20000, unknown: 'scrap' },
      // 152 of the 366 days of 2016 lie before 1 June; 2016-01-01 is 3804 days or 10.4 Julian years before the day.
      'Age: made between 2016-01-01 and 2016-12-31, at most 10.4 years old; the limit is 10 years; its hours on duty are not known; the limit is 20000 h. It tires. (Test, demonstration). Beyond with probability 42 %.',
    ],
    [
      'nothing known',
      null,
      { upToYears: 10, unknown: 'repair', repairNeeds: 'upkeep' },
      'Age: nobody knows when it was made; the limit is 10 years. It tires. (Test, demonstration).',
    ],
    [
      'hours alone',
      null,
      { upToHours: 20000, unknown: 'scrap' },
      'Age: its hours on duty are not known; the limit is 20000 h. It tires. (Test, demonstration).',
    ],
  ])('in words: %s', (_name, made, over, sentence) => {
    expect(ring(made, null, [ageRow(over)]).findings.map((one) => one.sentence)).toEqual([sentence]);
    expect(ring(made, null, [ageRow(over)]).findings[0]?.basis).toMatchObject({
      upToYears: over.upToYears ?? null,
      upToHours: over.upToHours ?? null,
    });
  });

  test('a repair that needs rework is scrap where rework is not on offer', () => {
    const old = (over: object) =>
      ring(day('2010-01-01'), null, [ageRow({ upToYears: 10, beyond: 'repair', ...over }), BAN]).findings[0];
    expect(old({})).toMatchObject({
      class: 'scrap',
      noRework: { row: 'ban' },
      sentence: expect.stringMatching(/99\.9 %\. Rework is not on offer \(Test, demonstration\)\.$/),
    });
    expect(old({ repairNeeds: 'upkeep' })).toMatchObject({ class: 'repair', noRework: null });
    expect(old({ beyond: 'scrap' })).toMatchObject({ class: 'scrap', noRework: null });
  });
});
