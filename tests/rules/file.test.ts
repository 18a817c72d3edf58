import { describe, expect, test } from 'vitest';
import { problemText } from '../../lib/base/index.ts';
import soundFivePiece from '../../lib/rules/examples/sound-five-piece.json' with { type: 'json' };
import walkAround from '../../lib/rules/examples/walk-around-seven-piece.json' with { type: 'json' };
import wornThreePiece from '../../lib/rules/examples/worn-three-piece.json' with { type: 'json' };
import { Evidence, readInspectionFile } from '../../lib/rules/index.ts';
import { depth, least, withPart } from './files.ts';

/** The evidence of a file that can be read. */
function evidenceOf(file: object): Evidence {
  const read = readInspectionFile(file);
  if (!read.ok) throw new Error(read.error.map(problemText).join('\n'));
  return Evidence.parse(read.value.evidence);
}

/** The inspection file is our own format (README, "Inspection file"). */
describe('an inspection file', () => {
  test('needs no more than the size, the construction, a moment and its parts; what is left out says nothing', () => {
    expect(readInspectionFile(least)).toEqual({
      ok: true,
      value: {
        tables: [],
        instruments: [],
        evidence: {
          decidedAt: '2026-11-02T09:30:00.000Z',
          wheel: { tag: '', maker: '', series: '', dual: false, ...least.wheel },
          gateOpen: [
            'machine locked out',
            'tyre deflated',
            'valve core out',
            'components clean',
            'trajectory clear',
          ],
          parts: [],
          assembly: [],
          elsewhere: [],
          unreadable: 0,
        },
      },
    });
  });

  test('of a part that is only named nothing is known, and it counts as fitted', () => {
    expect(evidenceOf(withPart({})).parts).toEqual([
      {
        slot: 'rim base',
        component: 'rim base',
        maker: '',
        series: '',
        stamp: '',
        made: null,
        dutyHours: null,
        claims: 1,
        absent: false,
        looks: [],
        photos: [],
        readings: [],
        defects: [],
        tests: [],
      },
    ]);
  });

  test('a part that is absent is no component', () => {
    expect(evidenceOf(withPart({ absent: true })).parts).toMatchObject([
      { slot: 'rim base', component: null, claims: 0, absent: true },
    ]);
  });

  test('gives on everything that it says of a part', () => {
    const said = {
      maker: 'Quillmoor Rimworks',
      series: 'QX',
      stamp: 'QX 8417',
      looks: [
        { zone: 'gutter lip', result: 'could not be seen' },
        { zone: 'gutter weld', result: 'defect recorded' },
      ],
      photos: [{ id: 'p1', zone: 'gutter groove' }],
      dutyHours: { value: 12000, u: 200 },
    };
    const defect = {
      defect: 'crack',
      zone: 'gutter weld',
      clock: 5,
      method: 'penetrant',
      note: 'fine',
      lengthMm: { value: 20, u: 1 },
      areaMm2: null,
    };
    const tested = {
      method: 'magnetic particle',
      zones: ['gutter groove'],
      result: 'no indication',
      on: '2026-10-01',
      standard: 'ASTM E709',
      dutyHours: 11000,
    };
    const file = withPart({
      ...said,
      madeOn: '2019',
      defects: [{ defect: 'bent', zone: 'centre band' }, defect],
      tests: [
        { ...tested, standard: undefined, dutyHours: undefined },
        tested,
        { ...tested, result: 'indication' },
      ],
    });
    expect(evidenceOf(file).parts).toEqual([
      {
        slot: 'rim base',
        component: 'rim base',
        claims: 1,
        absent: false,
        ...said,
        made: { from: '2019-01-01', to: '2019-12-31' },
        readings: [],
        defects: [
          {
            id: 'rim base defect 1',
            defect: 'bent',
            zone: 'centre band',
            clock: null,
            method: 'visual',
            note: '',
            lengthMm: null,
            areaMm2: null,
          },
          { id: 'rim base defect 2', ...defect },
        ],
        tests: [
          { id: 'rim base test 1', ...tested, standard: '', dutyHours: null },
          { id: 'rim base test 2', ...tested },
          { id: 'rim base test 3', ...tested, result: 'indication' },
        ],
      },
    ]);
  });

  test('answers of the gate and of assembly count as given; only a yes closes a question', () => {
    const file = {
      ...least,
      gate: { 'machine locked out': 'yes', 'tyre deflated': 'no', 'valve core out': 'yes' },
      assembly: { 'new O-ring': 'yes', 'grooves clean': 'no' },
      tables: ['demonstration-quillmoor'],
    };
    const read = readInspectionFile(file);
    expect(read).toMatchObject({ value: { tables: ['demonstration-quillmoor'] } });
    expect(evidenceOf(file)).toMatchObject({
      gateOpen: ['tyre deflated', 'components clean', 'trajectory clear'],
      assembly: [
        { point: 'new O-ring', answer: 'yes' },
        { point: 'grooves clean', answer: 'no' },
      ],
    });
    const dual = { ...file, wheel: { ...least.wheel, dual: true } };
    expect(evidenceOf(dual).gateOpen).toContain('dual considered');
  });

  test('the examples can be read', () => {
    for (const file of [soundFivePiece, walkAround, wornThreePiece])
      expect(readInspectionFile(structuredClone(file)).ok).toBe(true);
  });
});

describe('readings of a file', () => {
  const readingsOf = (...readings: object[]) => evidenceOf(withPart({ readings })).parts[0]?.readings;

  test('carry their value as typed and in mm, and the u and calibration of the instrument named', () => {
    expect(readingsOf({ ...depth, clock: 6, value: '1/2 in', instrument: 'DG-1' })).toEqual([
      {
        id: 'parts.0.readings.0',
        characteristic: 'gutter depth',
        zone: 'gutter groove',
        clock: 6,
        state: null,
        valueMm: expect.closeTo(12.7, 12),
        // A step of half an inch, rectangular, with the certificate's 0.03 mm (JCGM 100 4.3.7).
        uMm: expect.closeTo(Math.hypot(12.7 / Math.sqrt(12), 0.03), 12),
        method: 'gauge',
        typed: '1/2 in',
        instrument: { name: 'DG-1', calibrationDue: '2026-11-02', expired: false },
      },
    ]);
  });

  test('are in mm where no unit is typed, and taken anywhere with no instrument where none is named', () => {
    expect(readingsOf(depth)).toMatchObject([
      { clock: null, state: null, valueMm: 11.6, uMm: 0.5, instrument: null },
    ]);
  });

  test('an overlap of the ring ends is a negative gap', () => {
    const gap = { characteristic: 'lock-ring gap', zone: 'ring ends', state: 'free', value: '40' };
    const values = evidenceOf({
      ...least,
      parts: [{ slot: 'lock ring', readings: [{ ...gap, overlap: true }, gap] }],
    }).parts[0]?.readings.map((one) => [one.state, one.valueMm]);
    expect(values).toEqual([
      ['free', -40],
      ['free', 40],
    ]);
  });

  test('the last day of a calibration still counts, the day after does not', () => {
    const expired = (day: string) =>
      evidenceOf(
        withPart({ readings: [{ ...depth, instrument: 'DG-1' }] }, { decidedAt: `${day}T00:00:00.000Z` }),
      ).parts[0]?.readings[0]?.instrument?.expired;
    expect([expired('2026-11-02'), expired('2026-11-03')]).toEqual([false, true]);
  });
});
