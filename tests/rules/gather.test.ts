import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { kinds } from '../../lib/record/index.ts';
import { BASE, entry, FITTING, INSPECTION, REMOVAL, RING, testId, thing, WHEEL } from '../support/entries.ts';
import {
  depth,
  described,
  fitted,
  gathered,
  inspected,
  look,
  NOW,
  noted,
  PHOTO_A,
  PHOTO_B,
  partOf,
  photo,
  REGISTER,
  WHEEL_BODY,
} from './record.ts';

/** What the engine is told of a record is our own specification, no source. */
describe('the evidence of an inspection', () => {
  test('names the wheel, the moment and one part for each slot of the construction', () => {
    const evidence = gathered([]);
    const { machine: _, position: __, ...wheel } = WHEEL_BODY;
    expect(evidence).toMatchObject({ decidedAt: NOW, wheel, elsewhere: [], assembly: [], unreadable: 0 });
    expect(evidence.parts.map((one) => [one.slot, one.component, one.claims])).toEqual([
      ['rim base', BASE, 1],
      ['back side flange', null, 0],
      ['gutter side flange', null, 0],
      ['bead seat band', null, 0],
      ['lock ring', null, 0],
      ['O-ring', null, 0],
    ]);
  });

  test('tells of an empty slot that nothing is known of it', () => {
    expect(partOf(gathered([noted(1), depth(2)]), 'lock ring')).toEqual({
      slot: 'lock ring',
      component: null,
      maker: '',
      series: '',
      stamp: '',
      made: null,
      claims: 0,
      absent: false,
      looks: [],
      photos: [],
      readings: [],
      defects: [],
      tests: [],
    });
  });

  test('says maker, series, stamp and the days of making of the part fitted', () => {
    expect(partOf(gathered([]), 'rim base')).toMatchObject({
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      stamp: 'QX 8417',
      made: { from: '2019-04-01', to: '2019-04-30' },
    });
  });

  test('counts the components that are said to be in a slot of this wheel and have not been taken out', () => {
    const [other, gone] = [thing(40), thing(41)];
    const elsewhere = entry(kinds.componentFitted, thing(42), {
      wheel: thing(9),
      slot: 'rim base',
      ...FITTING,
    });
    const register = [
      ...REGISTER,
      ...[other, gone, thing(42), RING].map((id) => described(id)),
      entry(kinds.componentFitted, other, { wheel: thing(9), slot: 'rim base', ...FITTING }),
      fitted(gone, 'rim base'),
      entry(kinds.componentRemoved, gone, { wheel: WHEEL, reason: 'worn', ...REMOVAL }),
      fitted(other, 'rim base'),
      fitted(RING, 'lock ring'),
      elsewhere,
    ];
    const { parts } = gathered([], register);
    expect(parts.map((one) => [one.slot, one.claims]).filter(([, claims]) => claims !== 0)).toEqual([
      ['rim base', 2],
      ['lock ring', 1],
    ]);
  });

  test('lists the gate questions without a yes, the one about duals only where the wheel is one of two', () => {
    const yes = (question: string, answer = 'yes') =>
      inspected('gateAnswered', { question, answer, by: 'x', doneAt: NOW });
    const answers = [yes('machine locked out'), yes('tyre deflated', 'no'), yes('trajectory clear')];
    expect(gathered(answers).gateOpen).toEqual([
      'dual considered',
      'tyre deflated',
      'valve core out',
      'components clean',
    ]);
    const single = [...REGISTER, entry(kinds.wheelDescribed, WHEEL, { ...WHEEL_BODY, dual: false })];
    expect(gathered(answers, single).gateOpen).toEqual([
      'tyre deflated',
      'valve core out',
      'components clean',
    ]);
  });

  test('says which parts were looked for and not found', () => {
    const absent = inspected('partNotFound', { slot: 'lock ring', componentKind: 'lock ring', note: '' });
    expect(
      gathered([absent])
        .parts.filter((one) => one.absent)
        .map((one) => one.slot),
    ).toEqual(['lock ring']);
  });

  test('gives assembly points in the order of their names, whenever they were answered', () => {
    const answer = (point: string, said: string) =>
      inspected('assemblyPointAnswered', { point, answer: said, note: '' });
    const answers = [
      answer('new O-ring', 'yes'),
      answer('grooves clean', 'no'),
      answer('lock ring seated', 'yes'),
    ];
    expect(gathered(answers).assembly).toEqual([
      { point: 'grooves clean', answer: 'no' },
      { point: 'lock ring seated', answer: 'yes' },
      { point: 'new O-ring', answer: 'yes' },
    ]);
  });
});

describe('readings, looks and photos of a part', () => {
  test('a reading carries its value, its text and the u and calibration of its instrument', () => {
    const [reading] = partOf(gathered([depth(2)]), 'rim base').readings;
    expect(reading).toEqual({
      id: thing(2),
      characteristic: 'gutter depth',
      zone: 'gutter groove',
      clock: 6,
      state: null,
      valueMm: 11.6,
      // A step of 0.05 mm, rectangular, with the certificate's 0.03 mm (JCGM 100 4.3.7).
      uMm: expect.closeTo(Math.hypot(0.05 / Math.sqrt(12), 0.03), 12),
      method: 'gauge',
      typed: '11.60',
      instrument: { name: 'DG-1', calibrationDue: '2030-01-01', expired: false },
    });
  });

  test('the calibration is judged at the moment of the reading', () => {
    const late = entry(kinds.readingEntered, INSPECTION, depth(3).body as never, {
      at: '2030-01-02T08:00:00.000Z',
    });
    const expired = partOf(gathered([depth(2), late]), 'rim base').readings.map(
      (one) => one.instrument?.expired,
    );
    expect(expired).toEqual([false, true]);
  });

  test('calibrating afterwards does not make an earlier reading count; each counts with the description of its day', () => {
    const [gauge] = REGISTER.filter((one) => one.kind === kinds.instrumentDescribed.kind);
    const { subject, body } = must(gauge, 'gauge');
    const again = (over: object) =>
      entry(kinds.instrumentDescribed, subject.id, { ...body, ...over } as never);
    const register = [
      ...REGISTER,
      again({ calibratedOn: '2024-12-01', calibrationDue: '2025-12-01' }),
      again({ calibratedOn: '2026-06-10', calibrationDue: '2027-06-10', certificateUMm: 0.2 }),
    ].filter((one) => one !== gauge);
    const readAt = (day: string) =>
      partOf(
        gathered(
          [entry(kinds.readingEntered, INSPECTION, depth(3).body as never, { at: `${day}T08:00:00.000Z` })],
          register,
        ),
        'rim base',
      ).readings[0];
    const [old, now] = [0.03, 0.2].map((certificate) => Math.hypot(0.05 / Math.sqrt(12), certificate));
    const name = 'DG-1';
    expect(readAt('2024-11-30')).toMatchObject({ instrument: { name, calibrationDue: null, expired: true } });
    for (const day of ['2024-12-01', '2025-12-01'])
      expect(readAt(day)).toMatchObject({
        uMm: old,
        instrument: { name, calibrationDue: '2025-12-01', expired: false },
      });
    for (const day of ['2025-12-02', '2026-06-09'])
      expect(readAt(day)).toMatchObject({
        uMm: now,
        instrument: { name, calibrationDue: '2025-12-01', expired: true },
      });
    expect(readAt('2026-06-10')).toMatchObject({
      uMm: now,
      instrument: { name, calibrationDue: '2027-06-10', expired: false },
    });
  });

  test('without a named instrument u is 0.5 mm (our own choice), or that of the step typed where it is coarser', () => {
    const nameless = (typed: string, valueMm: number) =>
      partOf(gathered([depth(2, { instrument: null, typed, valueMm })]), 'rim base').readings[0];
    expect(nameless('11.6', 11.6)).toMatchObject({ uMm: 0.5, instrument: null });
    expect(nameless('1 cm', 10)?.uMm).toBeCloseTo(10 / Math.sqrt(12), 12);
  });

  test('each list is in the order of the ids, whenever things were written down', () => {
    const base = partOf(
      gathered([
        depth(5),
        depth(4, { component: RING }),
        depth(3),
        photo(PHOTO_B),
        photo(PHOTO_A, { zone: 'gutter lip' }),
        photo('c'.repeat(64), { component: RING }),
        look('gutter lip', 'could not be seen'),
        look('gutter groove', 'nothing seen'),
        look('gutter weld', 'nothing seen'),
        look('ring body', 'nothing seen', RING),
      ]),
      'rim base',
    );
    expect(base.readings.map((one) => one.id)).toEqual([thing(3), thing(5)]);
    expect(base.photos).toEqual([
      { id: PHOTO_A, zone: 'gutter lip' },
      { id: PHOTO_B, zone: 'gutter groove' },
    ]);
    expect(base.looks).toEqual([
      { zone: 'gutter groove', result: 'nothing seen' },
      { zone: 'gutter lip', result: 'could not be seen' },
      { zone: 'gutter weld', result: 'nothing seen' },
    ]);
  });

  test('tests come from the record of the component', () => {
    const tested = (result: 'indication' | 'no indication', n: number, ms: number) =>
      entry(
        kinds.testRecorded,
        BASE,
        {
          method: 'magnetic particle',
          zones: ['gutter weld'],
          result,
          standard: 'ASTM E709',
          testedBy: 'T. Ester, level 2',
          on: '2026-10-01',
          surface: '',
          inspection: null,
          dutyHours: null,
        },
        { id: testId(0, n), ms },
      );
    // Written down in the other order than their ids stand.
    const [first, second] = [tested('indication', 1, 9000), tested('no indication', 2, 8000)];
    const said = {
      method: 'magnetic particle',
      zones: ['gutter weld'],
      on: '2026-10-01',
      standard: 'ASTM E709',
    };
    expect(partOf(gathered([], [...REGISTER, second, first]), 'rim base').tests).toEqual([
      { ...said, id: first.id, result: 'indication' },
      { ...said, id: second.id, result: 'no indication' },
    ]);
  });
});
