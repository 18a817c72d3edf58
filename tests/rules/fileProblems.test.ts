import { describe, expect, test } from 'vitest';
import { problemText } from '../../lib/base/index.ts';
import { readInspectionFile } from '../../lib/rules/index.ts';
import { depth, least, withPart } from './files.ts';

/** The problems of a file that cannot. */
function problemsOf(file: unknown): string[] {
  const read = readInspectionFile(file);
  if (read.ok) throw new Error('read');
  return read.error.map(problemText);
}

describe('what is wrong with a file is said with its field and a way out', () => {
  const WAY_OUT = 'Correct this field; the README describes the inspection file.';

  test('a field that does not fit', () => {
    expect(problemsOf({ ...least, version: 2 })).toEqual([
      expect.stringMatching(/^version: .*\(received 2\)\. /),
    ]);
    expect(problemsOf({ ...least, version: 2 })[0]).toContain(WAY_OUT);
    expect(problemsOf(withPart({ photos: [{ id: '', zone: 'gutter lip' }] }))[0]).toMatch(
      /^parts\.0\.photos\.0\.id: /,
    );
    expect(
      problemsOf(withPart({ tests: [{ method: 'visual', zones: [], result: 'no indication', on: 'x' }] })),
    ).toEqual([
      expect.stringMatching(/^parts\.0\.tests\.0\.method: /),
      expect.stringMatching(/^parts\.0\.tests\.0\.zones: /),
      expect.stringMatching(/^parts\.0\.tests\.0\.on: /),
    ]);
    expect(problemsOf({ ...least, decidedAt: '2026-11-02T09:30:00Z' })).toEqual([
      expect.stringMatching(/^decidedAt: /),
    ]);
    expect(problemsOf({ ...least, colour: 'red' })).toEqual([expect.stringMatching(/^colour: /)]);
  });

  test('faults of the whole file and of single slots and readings are told together', () => {
    const file = {
      ...least,
      version: 2,
      decidedAt: 'yesterday',
      instruments: [{ name: 'G1', kind: 'ruler' }],
      parts: [
        {
          slot: 'hub',
          readings: [
            { characteristic: 'gutter depth', zone: 'gutter groove', value: 'ten', instrument: 'G1' },
            { characteristic: 'gutter depth', zone: 'gutter groove', value: '10', instrument: 'G2' },
            { characteristic: 'gutter depth', zone: 'nowhere', value: 'ten' },
          ],
        },
        { slot: 7 },
      ],
    };
    expect(problemsOf(file).map((text) => text.split(':')[0])).toEqual([
      'version',
      'decidedAt',
      'instruments.0.kind',
      'instruments.0.serial',
      'instruments.0.resolutionMm',
      'instruments.0.certificateUMm',
      'instruments.0.calibratedOn',
      'instruments.0.calibrationDue',
      'parts.0.readings.2.zone',
      'parts.1.slot',
      'parts.0.slot',
      'parts.0.readings.0.value',
      'parts.0.readings.1.instrument',
    ]);
    expect(problemsOf({ ...least, version: 2, parts: 'none' })).toHaveLength(2);
  });

  test('slots that the construction does not have, or that stand there twice', () => {
    const parts = ['rim base', 'hub', 'rim base', 'hub'].map((slot) => ({ slot }));
    const noSlot =
      'A five-piece rim has no such slot; it has rim base, back side flange, gutter side flange, bead seat band, lock ring, O-ring';
    expect(problemsOf({ ...least, parts })).toEqual([
      `parts.1.slot: ${noSlot} (received hub). ${WAY_OUT}`,
      `parts.2.slot: This slot stands in the file twice (received rim base). ${WAY_OUT}`,
      `parts.3.slot: This slot stands in the file twice (received hub). ${WAY_OUT}`,
    ]);
    const read = readInspectionFile({ ...least, parts });
    expect(read.ok ? [] : read.error.map((one) => one.code)).toEqual([
      'part-slot',
      'part-doubled',
      'part-doubled',
    ]);
  });

  test('readings that are no length or name no instrument of the file, all at once', () => {
    const file = withPart({
      readings: [
        { ...depth, value: 'deep' },
        { ...depth, instrument: 'DG-9' },
        { ...depth, instrument: 'DG-1' },
        { ...depth, value: '-3' },
      ],
    });
    const read = readInspectionFile(file);
    expect(read.ok ? [] : read.error.map((one) => [one.code, one.field, one.value])).toEqual([
      [expect.any(String), 'parts.0.readings.0.value', 'deep'],
      ['reading-instrument', 'parts.0.readings.1.instrument', 'DG-9'],
      ['reading-negative', 'parts.0.readings.3.value', '-3'],
    ]);
    expect(problemsOf(file)[1]).toBe(
      `parts.0.readings.1.instrument: No instrument of this name stands in the file (received DG-9). ${WAY_OUT}`,
    );
  });

  test('a file that is none', () => {
    expect(problemsOf(null)).toHaveLength(1);
    const read = readInspectionFile({});
    expect(read.ok ? [] : read.error.map((one) => [one.code, one.field])).toEqual(
      ['format', 'version', 'decidedAt', 'wheel', 'parts'].map((field) => ['inspection-file', field]),
    );
  });
});
