import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, type Missing } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { part, reading, soundEvidence, tableOf, testSource } from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const source = { ...testSource, section: '9' };

/** What rows ask for and do not find in a slot, beside the demonstration table, under which nothing is missing. */
function asked(
  slot: string,
  row: object,
  change: (evidence: Evidence) => void = () => {},
): readonly Missing[] {
  const evidence = soundEvidence();
  change(evidence);
  return must(
    evaluate(evidence, [...demonstration, tableOf([{ row: 'r', source, ...row }])]).parts.find(
      (one) => one.slot === slot,
    ),
    slot,
  ).missing;
}
const texts = (missing: readonly Missing[]) => missing.map((one) => one.text);

/** What each row asks for, and how it is said, is our own specification, no source. */
describe('a row that asks for photos', () => {
  const row = (over: object) => ({
    type: 'evidence',
    components: ['rim base'],
    ask: { what: 'photo' },
    ...over,
  });
  const photo = (zone: string) => ({
    what: 'photo',
    text: `${zone}: no photo yet (Test 9, demonstration).`,
    zone,
  });

  test('of zones it names, each once, and not of those that have one', () => {
    expect(asked('rim base', row({ zones: ['gutter groove', 'valve slot', 'centre band'] }))).toEqual([
      photo('centre band'),
      photo('valve slot'),
    ]);
  });

  test('of every zone of the part where it names none', () => {
    expect(asked('lock ring', row({ components: ['lock ring'] }))).toEqual([photo('ring seat face')]);
  });

  test('of no other part', () => {
    expect(asked('lock ring', row({}))).toEqual([]);
  });
});

describe('a row that asks for readings', () => {
  const row = (ask: object, over: object = {}) => ({
    type: 'evidence',
    components: ['rim base', 'lock ring'],
    ask: { what: 'reading', characteristic: 'gutter depth', positions: [], repeats: 1, ...ask },
    ...over,
  });
  const missing = (text: string, clock: number | null, over: object = {}) => ({
    what: 'reading',
    text,
    characteristic: 'gutter depth',
    clock,
    state: null,
    ...over,
  });

  test('at places, each as often as it says: below, at and above', () => {
    const twice = row({ positions: [3, 6], repeats: 2 });
    const more = (count: number) => (e: Evidence) => {
      for (let i = 0; i < count; i += 1)
        for (const clock of [3, 6])
          part(e, 'rim base').readings.push(reading({ id: `more ${clock} ${i}`, clock, valueMm: 11.7 }));
    };
    expect(asked('rim base', twice)).toEqual([
      missing("Gutter depth at 3 o'clock: 1 of 2 readings (Test 9, demonstration).", 3),
      missing("Gutter depth at 6 o'clock: 1 of 2 readings (Test 9, demonstration).", 6),
    ]);
    expect(asked('rim base', twice, more(1))).toEqual([]);
    expect(asked('rim base', twice, more(2))).toEqual([]);
  });

  test('a reading that cannot support keep does not count', () => {
    const old = { name: 'old', calibrationDue: '2020-01-01', expired: true };
    for (const instrument of [old, null])
      expect(
        asked('rim base', row({ positions: [3], repeats: 2 }), (e) =>
          part(e, 'rim base').readings.push(reading({ id: 'old', clock: 3, valueMm: 11.75, instrument })),
        ),
      ).toEqual([missing("Gutter depth at 3 o'clock: 1 of 2 readings (Test 9, demonstration).", 3)]);
  });

  test('anywhere where it names no place: all readings of the part count together', () => {
    expect(asked('rim base', row({ repeats: 4 }))).toEqual([]);
    expect(asked('rim base', row({ repeats: 5 }))).toEqual([
      missing('Gutter depth: 4 of 5 readings (Test 9, demonstration).', null),
    ]);
  });

  test('in a zone it names: readings in others do not count', () => {
    const inZones = (zones: string[]) => asked('rim base', row({}, { zones }));
    expect(inZones(['gutter lip', 'gutter groove'])).toEqual([]);
    expect(inZones(['gutter lip', 'centre band'])).toEqual([
      missing('Gutter depth: 0 of 1 readings (Test 9, demonstration).', null, { zone: 'gutter lip' }),
    ]);
  });

  test('in a state it names: readings in others do not count', () => {
    const gap = { characteristic: 'lock-ring gap' };
    expect(asked('lock ring', row({ ...gap, state: 'free' }, { components: ['lock ring'] }))).toEqual([]);
    expect(asked('lock ring', row({ ...gap, state: 'inflated' }, { components: ['lock ring'] }))).toEqual([
      missing('Lock-ring end gap, inflated: 0 of 1 readings (Test 9, demonstration).', null, {
        ...gap,
        state: 'inflated',
      }),
    ]);
  });
});

describe('a row that asks for a test', () => {
  const row = (over: object) => ({
    type: 'test',
    components: ['lock ring'],
    methods: ['magnetic particle'],
    zones: ['ring body', 'ring ends'],
    ...over,
  });
  const tested = (over: object = {}) => ({
    id: 't',
    method: 'magnetic particle' as const,
    zones: ['ring body' as const, 'ring ends' as const],
    result: 'no indication' as const,
    on: '2026-05-02',
    standard: '',
    ...over,
  });
  const withTests =
    (tests: object[], dutyHours: { value: number; u: number } | null = null) =>
    (e: Evidence) => {
      Object.assign(part(e, 'lock ring'), { tests, dutyHours });
    };
  const result = (over: object, ...rest: Parameters<typeof withTests>) =>
    texts(asked('lock ring', row(over), withTests(...rest)));
  const none = (within: string, zones = 'ring ends, ring body') =>
    `Magnetic particle test of ${zones}: no record within ${within} (Test 9, demonstration).`;

  test('within months: the same day of the month still counts, and no day after the verdict', () => {
    // Decided on 2026-11-02.
    const on = (day: string) => result({ withinMonths: 6 }, [tested({ on: day })]);
    expect(on('2026-05-01')).toEqual([none('6 months')]);
    expect(on('2026-05-02')).toEqual([]);
    expect(on('2026-11-02')).toEqual([]);
    expect(on('2026-11-03')).toEqual([none('6 months')]);
  });

  test('within hours on duty: below, at and above', () => {
    const at = (hours: number) =>
      result({ withinHours: 5000 }, [tested({ dutyHours: hours })], { value: 15000, u: 0 });
    expect(at(10001)).toEqual([]);
    expect(at(10000)).toEqual([]);
    expect(at(9999)).toEqual([none('5000 h on duty')]);
  });

  test('within hours on duty known with an uncertainty: overdue beyond the risk of the table', () => {
    const at = (hours: number, u: number, testAt = 9000) =>
      result({ withinHours: 1500 }, [tested({ dutyHours: testAt })], { value: hours, u });
    // 1.645 u for 5 % (standard normal table); 500 h short of overdue.
    expect(at(10000, 303)).toEqual([]);
    expect(at(10000, 305)).toEqual([
      `${none('1500 h on duty')} The last one is overdue with probability 5.1 %, for the part has 10000 h ± 610 h (k = 2).`,
    ]);
    // Φ(−500/2887) = Φ(−0.173) = 43 %.
    expect(at(10000, 2887)[0]).toContain('overdue with probability 43 %');
    expect(at(10500, 0)).toEqual([]);
    expect(at(10501, 300)).toEqual([none('1500 h on duty')]);
  });

  test('within hours on duty under simple acceptance: by the value', () => {
    const held = (hours: number) => {
      const evidence = soundEvidence();
      withTests([tested({ dutyHours: 9000 })], { value: hours, u: 2887 })(evidence);
      const table = tableOf([{ ...row({ withinHours: 1500 }), row: 'r', source: testSource }], {
        decision: { rule: 'simple acceptance', risk: 0.05 },
      });
      const ring = evaluate(evidence, [table]).parts.find((one) => one.slot === 'lock ring');
      return ring?.missing.filter((one) => one.what === 'test').length;
    };
    expect([held(10499), held(10500), held(10501)]).toEqual([0, 0, 1]);
  });

  test('within hours and months, where the hours of the part or of the test are not known', () => {
    const both = { withinMonths: 12, withinHours: 5000 };
    expect(result(both, [tested({ dutyHours: 10000 })])).toEqual([
      `${none('12 months and 5000 h on duty')} The hours on duty of the part are not known.`,
    ]);
    expect(result(both, [tested()], { value: 15000, u: 0 })).toEqual([none('12 months and 5000 h on duty')]);
    expect(result(both, [tested({ dutyHours: null })], { value: 15000, u: 0 })).toEqual([
      none('12 months and 5000 h on duty'),
    ]);
    expect(result({ withinMonths: 12 }, [tested()])).toEqual([]);
    // Also while the part itself has fewer hours than the row allows.
    expect(result({ withinHours: 5000 }, [tested()], { value: 3000, u: 0 })).toEqual([
      none('5000 h on duty'),
    ]);
  });

  test('by one of its methods, without an indication, zone by zone', () => {
    const months = { withinMonths: 12 };
    expect(result(months, [tested({ method: 'ultrasonic' })])).toEqual([none('12 months')]);
    expect(result({ ...months, methods: ['penetrant', 'magnetic particle'] }, [tested()])).toEqual([]);
    expect(result({ ...months, methods: ['penetrant', 'ultrasonic'] }, [tested()])).toEqual([
      'Penetrant or ultrasonic test of ring ends, ring body: no record within 12 months (Test 9, demonstration).',
    ]);
    expect(result(months, [tested({ zones: ['ring body'] })])).toEqual([none('12 months', 'ring ends')]);
    expect(result({ ...months, zones: undefined }, [tested()])).toEqual([
      none('12 months', 'ring seat face'),
    ]);
    expect(result(months, [tested({ result: 'indication' })])).toEqual([none('12 months')]);
  });

  test('a test at more hours than the part has is told with its zones, the rest as without a record', () => {
    const hours = { value: 15000, u: 50 };
    const late = (over: object = {}) => tested({ zones: ['ring body'], dutyHours: 15101, ...over });
    const told =
      'Magnetic particle test of ring body on 2026-05-02: recorded at 15101 h on duty, and the part has 15000 h ± 100 h (k = 2). One of the two is wrong, so the test does not count.';
    const months = { withinMonths: 12 };
    expect(
      asked('lock ring', row(months), withTests([late()], hours)).map(({ what, text }) => [what, text]),
    ).toEqual([
      ['test', told],
      ['test', none('12 months', 'ring ends')],
    ]);
    expect(result(months, [late({ zones: ['ring body', 'ring ends'] })], hours)).toEqual([
      told.replace('ring body', 'ring ends, ring body'),
    ]);
    // Where another test of the zone counts, nothing is said of it.
    expect(result(months, [late(), tested({ id: 'good' })], hours)).toEqual([]);
    expect(result(months, [late({ on: '2020-01-01' })], hours)).toEqual([none('12 months')]);
  });
});
