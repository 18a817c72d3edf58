import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { evaluate, type PartEvidence } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { ageRow, part, soundEvidence, tableOf } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;

/** The lock ring on 2026-11-02, sound but for its age. */
function ring(over: Pick<PartEvidence, 'made' | 'dutyHours'>, row: object) {
  const evidence = soundEvidence();
  Object.assign(part(evidence, 'lock ring'), over);
  const verdict = evaluate(evidence, [...demonstration, tableOf([ageRow(row)])]);
  const found = must(
    verdict.parts.find((one) => one.slot === 'lock ring'),
    'lock ring',
  );
  const finding = found.findings.find((one) => one.about === 'age');
  return { ...found, age: finding?.about === 'age' ? finding : null };
}

/** That a contradiction counts as not known is our own specification, no source. */
describe('a date of making after the day of the verdict', () => {
  const made = (from: string, to = from) => ({ made: { from, to } });

  test('contradicts itself: the age counts as not known, and that is said', () => {
    const held = ring(made('2062-01-01', '2062-12-31'), { upToYears: 10 });
    expect(held).toMatchObject({ result: 'hold', age: null });
    expect(held.missing.map((one) => one.text)).toEqual([
      'It is said to be made from 2062-01-01, after the day of the verdict, 2026-11-02. Correct the date: until then its age counts as not known.',
      'Nobody knows when it was made, and a limit depends on it (Test, demonstration).',
    ]);
    expect(ring(made('2026-11-03'), { upToYears: 10 }).missing[0]?.text).toMatch(
      /^It is said to be made on 2026-11-03/,
    );
    expect(ring(made('2062-01-01'), { upToYears: 10, unknown: 'scrap' })).toMatchObject({
      result: 'scrap',
      age: { made: null, beyond: null, unknown: ['when it was made'] },
    });
  });

  test('on the day itself it does not, and no row that asks for years does not care', () => {
    expect(ring(made('2026-11-02'), { upToYears: 10 })).toMatchObject({ result: 'keep', missing: [] });
    const hours = { ...made('2062-01-01'), dutyHours: { value: 100, u: 0 } };
    expect(ring(hours, { upToHours: 1000 })).toMatchObject({ result: 'keep', missing: [] });
  });

  test('a year that is partly ahead is cut at the day', () => {
    const young = ring(made('2026-01-01', '2026-12-31'), { upToYears: 10 });
    expect(young).toMatchObject({
      result: 'keep',
      age: { made: { from: '2026-01-01', to: '2026-11-02' } },
    });
    // Half a year allowed, to 2026-05-02: 121 of the 306 days up to 2026-11-02 lie before.
    const old = ring(made('2026-01-01', '2026-12-31'), { upToYears: 0.5 });
    expect(old.age?.beyond).toBeCloseTo(121 / 306, 12);
  });
});

describe('years and hours, whichever comes first', () => {
  test('beyond is the union of both, taken as independent', () => {
    // 2016: 306 of its 366 days lie before 2016-11-02, but 2016-12-31 is 60 days within. Hours: Φ(0) = 1/2.
    const both = { made: { from: '2016-01-01', to: '2016-12-31' }, dutyHours: { value: 20000, u: 100 } };
    const p = 306 / 366;
    expect(ring(both, { upToYears: 10, upToHours: 20000 }).age?.beyond).toBeCloseTo(1 - (1 - p) / 2, 12);
    expect(ring(both, { upToYears: 10 }).age?.beyond).toBe(p);
    expect(ring(both, { upToHours: 20000 }).age?.beyond).toBe(0.5);
  });

  test('two chances within the risk can exceed it together', () => {
    // 11 of 306 days: 3.6 %; Φ(−1.8) = 3.6 %; together 7 %.
    const made = { from: '2016-10-22', to: '2017-08-23' };
    const hours = { value: 19820, u: 100 };
    expect(ring({ made, dutyHours: { ...hours, u: 0 } }, { upToYears: 10, upToHours: 20000 }).result).toBe(
      'keep',
    );
    expect(
      ring(
        { made: { from: '2020-01-01', to: '2020-01-01' }, dutyHours: hours },
        { upToYears: 10, upToHours: 20000 },
      ).result,
    ).toBe('keep');
    expect(ring({ made, dutyHours: hours }, { upToYears: 10, upToHours: 20000 }).result).toBe('scrap');
  });
});
