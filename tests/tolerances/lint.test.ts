import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findWorseButMilder } from '../../lib/rules/index.ts';
import { bundledTables, lintTable } from '../../lib/tolerances/index.ts';
import { tableOf } from '../support/evidence.ts';
import { defect, findingsIn, limit, match, pair, second } from './lintRows.ts';

describe('no error and no gap', () => {
  const sound: [name: string, rows: object[]][] = [
    ['one limit', [limit()]],
    [
      'rows of neighbouring sizes',
      [
        limit({ diameterCodes: { min: 25, max: 29 } }),
        limit({ ...second, diameterCodes: { min: 33, max: 35 }, keep: { min: 11 } }),
      ],
    ],
    [
      'a gap between sizes that a row of all sizes closes',
      [
        limit({ diameterCodes: { min: 25, max: 25 }, keep: { min: 12 }, repair: { min: 7 } }),
        limit({ row: 'x', diameterCodes: { min: 35, max: 35 }, keep: { min: 12 }, repair: { min: 7 } }),
        limit({ row: 'any', zones: ['gutter groove'] }),
      ],
    ],
    [
      'defects in different zones',
      [defect({ zones: ['gutter weld'] }), defect({ ...second, zones: ['back weld'], verdict: 'repair' })],
    ],
    ['different pairs', [match(), match({ ...second, together: 'may not', pairs: [pair('Other')] })]],
    [
      'opposite signs of a free and a fitted gap',
      [
        limit({
          components: ['lock ring'],
          characteristic: 'lock-ring gap',
          states: ['free'],
          keep: { min: -76.2 },
          repair: null,
        }),
        limit({
          ...second,
          components: ['lock ring'],
          characteristic: 'lock-ring gap',
          states: ['fitted'],
          keep: { min: 3 },
          repair: null,
        }),
      ],
    ],
  ];
  test.each(sound)('%s', (_, rows) => {
    expect(
      findingsIn(rows).filter(
        (one) => one.severity === 'error' || one.lint === 'gap' || one.lint === 'mixed units',
      ),
    ).toEqual([]);
  });
});

describe('the search for a worse reading with a milder verdict', () => {
  test('finds nothing in the bundled tables, and they hold no error', () => {
    for (const table of bundledTables) {
      expect(findWorseButMilder(table)).toEqual([]);
      expect(lintTable(table).filter((one) => one.severity === 'error')).toEqual([]);
    }
  });

  test('bounds on the side that the characteristic asks for never give one; on the other side always', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 30, noNaN: true }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.constantFrom('gutter depth', 'flange wear'),
        fc.boolean(),
        (keep, more, characteristic, turned) => {
          const lowIsWorse = characteristic === 'gutter depth';
          const end = lowIsWorse === turned ? 'max' : 'min';
          const repair = end === 'max' ? keep + more : keep - more;
          const row = limit({
            characteristic,
            components: [lowIsWorse ? 'rim base' : 'side flange'],
            keep: { [end]: keep },
            repair: { [end]: repair },
          });
          expect(findWorseButMilder(tableOf([row])).length).toBe(turned ? 1 : 0);
        },
      ),
      { numRuns: 40 },
    );
  });
});
