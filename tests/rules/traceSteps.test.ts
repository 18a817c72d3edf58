import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Evidence, evaluate, traceOf } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { part, soundEvidence, tableOf, testSource } from '../support/evidence.ts';
import { BAN, step, tracesOf } from './traces.ts';

/** What a trace says is our own specification, no source. */
describe('the trace of a defect', () => {
  const crack = {
    id: 'd',
    defect: 'crack' as const,
    zone: 'gutter weld' as const,
    clock: 5,
    method: 'visual' as const,
    note: '',
    lengthMm: { value: 20, u: 1 },
    areaMm2: { value: 400, u: 10 },
  };
  const row = {
    row: 'short',
    type: 'defect',
    defects: ['crack'],
    verdict: 'repair',
    repairUpToMm: 60,
    repairUpToMm2: 500,
    says: 'It may be welded.',
    source: testSource,
  };
  function cracked(): Evidence {
    const evidence = soundEvidence();
    const base = part(evidence, 'rim base');
    base.readings = [];
    base.defects.push(crack);
    return evidence;
  }
  const seen = "Crack in the gutter weld at 5 o'clock, found by visual means, 20.0 mm ± 2.0 mm long (k = 2)";

  test('says what was seen, how large, and up to which size repair is open', () => {
    expect(tracesOf(cracked(), [tableOf([row])])).toEqual([
      [
        step('Seen', seen, 'Area: 4.0 cm² ± 0.2 cm² (k = 2)'),
        step(
          'Rule',
          'It may be welded.',
          'Repair is open up to 60.0 mm long',
          'Repair is open up to 5.0 cm²',
          'Table: Test table, 1',
          'Row: short',
          'Source: Test, demonstration',
        ),
        step('Class', 'repair'),
      ],
    ]);
  });

  test('in inches: 1 in = 25.4 mm', () => {
    const [trace] = tracesOf(cracked(), [tableOf([{ ...row, repairUpToMm: 50.8 }])], 'imperial');
    expect(must(trace, 'trace').slice(0, 2)).toMatchObject([
      { lines: ['Area: 0.62 in² ± 0.03 in² (k = 2)'] },
      {
        lines: expect.arrayContaining([
          'Repair is open up to 2.000 in long',
          'Repair is open up to 0.78 in²',
        ]),
      },
    ]);
  });

  test('of which no rule speaks is out of service all the same', () => {
    expect(tracesOf(cracked(), [tableOf([BAN])])).toEqual([
      [
        step('Seen', seen, 'Area: 4.0 cm² ± 0.2 cm² (k = 2)'),
        step('Rule', 'none on file: out of service all the same'),
        step(
          'Rework',
          'not on offer: repair becomes scrap',
          'Table: Test table, 1',
          'Row: ban',
          'Source: Test, demonstration',
        ),
        step('Class', 'scrap'),
      ],
    ]);
  });
});

describe('the trace of an age', () => {
  const row = {
    row: 'age',
    type: 'age',
    components: ['rim base'],
    upToYears: 10,
    upToHours: 20000,
    beyond: 'scrap',
    unknown: 'scrap',
    says: 'It tires.',
    source: testSource,
  };
  const aged = (over: object) => {
    const evidence = soundEvidence();
    Object.assign(part(evidence, 'rim base'), { readings: [], made: null, dutyHours: null, ...over });
    return evidence;
  };
  const rule = [
    'Limit: 10 years',
    'Limit: 20000 h on duty',
    'Table: Test table, 1',
    'Row: age',
    'Source: Test, demonstration',
  ];

  test('known: when it was made, its hours, and the chance of being beyond', () => {
    const known = { made: { from: '2015-11-02', to: '2015-11-02' }, dutyHours: { value: 20000, u: 100 } };
    expect(tracesOf(aged(known), [tableOf([row])])).toEqual([
      [
        step('Age and hours', 'made on 2015-11-02, 11.0 years old', '20000 h ± 200 h on duty (k = 2)'),
        step('Rule', 'It tires.', ...rule),
        step(
          'Beyond the limit',
          'with probability over 99.9 %',
          'By years or by hours, whichever comes first; the two are taken as independent',
        ),
        step('Class', 'scrap'),
      ],
    ]);
  });

  test('under a row for years or for hours alone names that limit alone', () => {
    const limits = (over: object) =>
      must(tracesOf(aged({}), [tableOf([{ ...row, ...over }])])[0], 'trace')[1]?.lines.slice(0, -3);
    expect(limits({ upToHours: undefined })).toEqual(['Limit: 10 years']);
    expect(limits({ upToYears: undefined })).toEqual(['Limit: 20000 h on duty']);
  });

  test('not known: what nobody knows', () => {
    expect(tracesOf(aged({}), [tableOf([row])])).toEqual([
      [
        step(
          'Age and hours',
          'nobody knows when it was made',
          'its hours on duty are not known',
          'Nobody knows when it was made',
          'Nobody knows its hours on duty',
        ),
        step('Rule', 'It tires.', ...rule),
        step('Beyond the limit', 'cannot be said'),
        step('Class', 'scrap'),
      ],
    ]);
  });
});

test('findings of earlier versions, which say less, are traced as far as they go', () => {
  const tablesUsed = evaluate(soundEvidence(), tablesNamed(['demonstration-quillmoor']).tables).tables;
  const [used] = tablesUsed;
  // Neither another edition of the table nor another table of that edition is the one cited.
  const tables = [
    { ...must(used, 'table'), table: 'lost', edition: '6' },
    { ...must(used, 'table'), table: 'other', edition: '7' },
  ];
  const context = { readings: [], tables, instruments: [], at: '2026-11-02T09:30:00.000Z' };
  const source = { title: 'Handbook', section: '', page: '', edition: '', kind: 'published' } as const;
  const rule = { table: 'lost', edition: '7', row: 'r1', source };
  const common = { class: 'scrap', rule, noRework: null, sentence: 'As it was said.' } as const;
  const cited = ['Table: lost, 7', 'Row: r1', 'Source: Handbook (published)'];
  const crack = { about: 'defect', defect: 'crack', defectId: 'd', zone: 'gutter weld', clock: 5 } as const;
  expect(traceOf({ ...common, ...crack, method: 'visual' }, context)).toEqual([
    step('Seen', 'As it was said.'),
    step('Rule', 'r1', ...cited),
    step('Class', 'scrap'),
  ]);
  const age = { about: 'age', made: null, dutyHours: null, unknown: [], beyond: 0.25 } as const;
  expect(traceOf({ ...common, ...age }, context)).toEqual([
    step('Age and hours', 'As it was said.', 'its hours on duty are not known'),
    step('Rule', 'r1', ...cited),
    step('Beyond the limit', 'with probability 25 %'),
    step('Class', 'scrap'),
  ]);
});
