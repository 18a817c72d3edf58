import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, traceOf } from '../../lib/rules/index.ts';
import { part, reading, soundEvidence, tableOf, testSource } from '../support/evidence.ts';
import { BAN, step, tracesOf } from './traces.ts';

const gauge = (name: string) => ({ name, calibrationDue: '2030-01-01', expired: false });
const LOST = {
  row: 'depth lost',
  type: 'limit',
  components: ['rim base'],
  characteristic: 'gutter depth',
  boundsOf: 'percent lost',
  nominal: { value: 12.5, u: 0.1 },
  keep: { max: 10 },
  repair: { max: 20 },
  methods: ['gauge', 'photo'],
  source: { ...testSource, section: '4' },
};
const SITE = {
  ...LOST,
  row: 'own depth',
  boundsOf: undefined,
  nominal: undefined,
  keep: { min: 9 },
  repair: null,
  source: { title: 'Handbook', kind: 'published' },
};
const tables = (...rows: object[]) => [
  tableOf(rows),
  tableOf([SITE], { table: 'site', title: 'Site limits', edition: '2' }),
];

/** What a trace says is our own specification, no source; the numbers are worked by hand. */
describe('the trace of a limit', () => {
  function differing(): Evidence {
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [
      reading({ id: 'a', clock: 3, valueMm: 10.4, uMm: 0.25, typed: '10.4', instrument: gauge('A') }),
      reading({ id: 'b', clock: 3, valueMm: 11.0, uMm: 0.25, typed: '', instrument: gauge('B') }),
      reading({
        id: 'c',
        clock: 3,
        valueMm: 11.0,
        uMm: 0.25,
        typed: '11',
        method: 'photo',
        instrument: null,
      }),
      reading({ id: 'd', clock: null, valueMm: 12, uMm: 0.5, typed: '12', instrument: null }),
      reading({ id: 'e', clock: null, valueMm: 12.2, uMm: 0.5, typed: '12.2', instrument: null }),
    ];
    return evidence;
  }
  const typed = step(
    'Readings as typed',
    '5 readings',
    'No place given: “12”, 12.00 mm, no instrument named, u = 0.500 mm',
    'No place given: “12.2”, 12.20 mm, no instrument named, u = 0.500 mm',
    "3 o'clock: “10.4”, 10.40 mm, with A, u = 0.250 mm",
    "3 o'clock: 11.00 mm, with B, u = 0.250 mm",
    "3 o'clock: “11”, 11.00 mm, from a photo, u = 0.250 mm",
  );
  // Mean (10.4 + 11 + 11)/3 = 10.8, χ² = 3.84, √(3.84/2) = 1.39, u = 0.25/√3 × 1.39 = 0.2. Without a name each counts alone: √(0.5² + 0.1²) = 0.51.
  const places = step(
    'Each place',
    '2 places',
    'No place given: 12.00 mm, u = 0.510 mm, the worst of 2 that cannot support keep',
    "3 o'clock: 10.80 mm, u = 0.200 mm, weighted mean of 3; u widened 1.4 times, for the instruments differ by more than it",
    "3 o'clock, A: 10.40 mm, u = 0.250 mm, 1 reading",
    "3 o'clock, B: 11.00 mm, u = 0.250 mm, 1 reading",
    "3 o'clock, from photos: 11.00 mm, u = 0.250 mm, 1 reading",
  );

  test('with all it can say: instruments, new size, guard bands, rework ruled out and another table', () => {
    const [lost] = tracesOf(differing(), tables(LOST, BAN));
    expect(lost).toEqual([
      typed,
      places,
      step(
        'Governing place',
        "3 o'clock: 10.80 mm ± 0.40 mm (k = 2)",
        'The worst place decides, never the mean of the places.',
      ),
      // 12.5 − 10 % and − 20 %; the u of the new size counts with 90 % (of 0.1 mm), that of the limit nearest to it.
      step(
        'Limit',
        'keep at least 11.25 mm; repair at least 10.00 mm',
        'Counted [keep at most 10.0 %, repair at most 20.0 %, lost of the new size of 12.50 mm]',
        'The new size itself is known to u = 0.090 mm, which adds to the comparison',
        'Table: Test table, 1',
        'Row: depth lost',
        'Source: Test 4, demonstration',
      ),
      // u = √(0.2² + 0.09²) = 0.2193: Φ(0.45/0.2193) = Φ(2.05) = 0.980, Φ(−0.8/0.2193) = Φ(−3.65).
      step(
        'Chance of being worse',
        'beyond keep 98 %, beyond repair under 0.1 %',
        'Margin to keep: −0.45 mm (beyond it)',
      ),
      // 1.645 × 0.2193 = 0.361.
      step(
        'Guard band',
        'risk 5.0 % at u = 0.219 mm',
        'Accepted as keep: at least 11.61 mm (guard band 0.361 mm)',
        'Accepted as repair or better: at least 10.36 mm (guard band 0.361 mm)',
      ),
      step('Guarded and simple', 'both say repair', 'The table decides by the guard band.'),
      step(
        'Rework',
        'not on offer: repair becomes scrap',
        'Table: Test table, 1',
        'Row: ban',
        'Source: Test, demonstration',
      ),
      step(
        'Other rows',
        'one other speaks of the same; the strictest counts',
        'Site limits, 2, row own depth: keep',
      ),
      step('Class', 'scrap'),
    ]);
  });

  test('without what does not apply: no repair, no new size, no rework rule', () => {
    const [, own] = tracesOf(differing(), tables(LOST, BAN));
    expect(own).toEqual([
      typed,
      places,
      step(
        'Governing place',
        'No place given: 12.00 mm ± 1.02 mm (k = 2)',
        'The worst place decides, never the mean of the places.',
      ),
      step(
        'Limit',
        'keep at least 9.00 mm',
        'Table: Site limits, 2',
        'Row: own depth',
        'Source: Handbook (published)',
      ),
      step('Chance of being worse', 'beyond keep under 0.1 %', 'Margin to keep: 3.00 mm'),
      // 1.645 × 0.5099 = 0.839.
      step(
        'Guard band',
        'risk 5.0 % at u = 0.510 mm',
        'Accepted as keep: at least 9.84 mm (guard band 0.839 mm)',
      ),
      step('Guarded and simple', 'both say keep', 'The table decides by the guard band.'),
      step(
        'Other rows',
        'one other speaks of the same; the strictest counts',
        'Test table, 1, row depth lost: scrap',
      ),
      step('Class', 'keep'),
    ]);
  });

  test('one place, an upper bound, simple acceptance, two other rows and tables that are not at hand', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [
      reading({
        characteristic: 'bead seat wear',
        zone: 'back bead seat',
        valueMm: 1.2,
        uMm: 0.2,
        typed: '1.2',
      }),
    ];
    const wear = { ...SITE, row: 'wear', characteristic: 'bead seat wear', keep: { max: 1.2 } };
    const under = tableOf([wear, { ...wear, row: 'other' }, { ...wear, row: 'third' }], {
      decision: { rule: 'simple acceptance', risk: 0.05 },
    });
    const verdict = evaluate(evidence, [under]);
    const finding = must(must(verdict.parts[0], 'part').findings[0], 'finding');
    const context = { readings: [], tables: [], instruments: [], at: evidence.decidedAt };
    expect(traceOf(finding, context)).toEqual([
      step('Readings as typed', 'a size from marks on a photo'),
      step('Each place', '1 place', "6 o'clock: 1.20 mm, u = 0.200 mm"),
      step('Governing place', "6 o'clock: 1.20 mm ± 0.40 mm (k = 2)"),
      step(
        'Limit',
        'keep at most 1.20 mm',
        'Table: test table, 1',
        'Row: wear',
        'Source: Handbook (published)',
      ),
      step('Chance of being worse', 'beyond keep 50 %', 'Margin to keep: 0.00 mm'),
      // 1.2 − 1.645 × 0.2.
      step(
        'Guard band',
        'risk 5.0 % at u = 0.200 mm',
        'Accepted as keep: at most 0.87 mm (guard band 0.329 mm)',
      ),
      step(
        'Guarded and simple',
        'guarded scrap, by the value alone keep',
        'The table decides by simple acceptance.',
      ),
      step(
        'Other rows',
        '2 others speak of the same; the strictest counts',
        'test table, 1, row other: keep',
        'test table, 1, row third: keep',
      ),
      step('Class', 'keep'),
      step(
        'What would settle it',
        expect.stringMatching(/^Nothing at hand would settle it\. A measurement at 6 o'clock with/),
      ),
    ]);
  });

  test('readings without a named instrument are a group of their own, after those that can support keep', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [
      reading({ id: 'a', valueMm: 11, uMm: 0.1, instrument: gauge('A') }),
      reading({ id: 'b', valueMm: 11, uMm: 0.5, instrument: null }),
    ];
    const [trace] = tracesOf(evidence, [tableOf([SITE])]);
    expect(
      must(trace, 'trace')
        .find((one) => one.title === 'Each place')
        ?.lines.slice(1),
    ).toEqual([
      "6 o'clock, A: 11.00 mm, u = 0.100 mm, 1 reading",
      "6 o'clock, no instrument named: 11.00 mm, u = 0.500 mm, 1 reading",
    ]);
  });

  test('bounds too close together for the u leave no value that is accepted', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [reading({ valueMm: 11, uMm: 1 })];
    const [trace] = tracesOf(evidence, [tableOf([{ ...SITE, keep: { min: 10.5, max: 11.5 } }])]);
    expect(must(trace, 'trace').find((one) => one.title === 'Guard band')?.lines).toEqual([
      'Accepted as keep: no value at all: u is too large for these limits',
    ]);
  });
});
