import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findWorseButMilder } from '../../lib/rules/index.ts';
import { bundledTables, type LintFinding, lintTable } from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';

const limit = (over: object = {}) => ({
  row: 'first',
  type: 'limit',
  components: ['rim base'],
  characteristic: 'gutter depth',
  keep: { min: 10 },
  repair: { min: 8 },
  methods: ['gauge'],
  source: testSource,
  ...over,
});
const defect = (over: object = {}) => ({
  row: 'first',
  type: 'defect',
  defects: ['crack'],
  verdict: 'scrap',
  says: 'Cracked parts go.',
  source: testSource,
  ...over,
});
const pair = (ring: string) => [
  { maker: ring, series: '' },
  { maker: 'Base', series: 'B' },
];
const match = (over: object = {}) => ({
  row: 'first',
  type: 'match',
  between: ['lock ring', 'rim base'],
  pairs: [pair('Ring')],
  together: 'may',
  says: 'The ring suits.',
  source: testSource,
  ...over,
});
const second = { row: 'second' };
const all = (rows: object[], over: object = {}): LintFinding[] => {
  const table = tableOf(rows, over);
  return [...lintTable(table), ...findWorseButMilder(table)];
};

describe('one fault at a time', () => {
  const faults: [
    name: string,
    rows: object[],
    over: object,
    lint: string,
    severity: string,
    field: string,
  ][] = [
    [
      'a diameter range without a rim in it',
      [limit({ diameterCodes: { min: 26, max: 28 } })],
      {},
      'reaches nothing',
      'error',
      'rows.0.diameterCodes',
    ],
    [
      'components outside the scope',
      [limit()],
      { scope: { components: ['lock ring'] } },
      'reaches nothing',
      'error',
      'rows.0.components',
    ],
    [
      'a depth where none is taken',
      [limit({ components: ['lock ring'] })],
      {},
      'reaches nothing',
      'error',
      'rows.0',
    ],
    [
      'two limits on one part',
      [limit(), limit({ ...second, keep: { min: 9 }, repair: { min: 8.5 } })],
      {},
      'overlap',
      'warning',
      'rows.1',
    ],
    [
      'no value that both keep',
      [limit(), limit({ ...second, keep: { min: 2, max: 3 }, repair: null })],
      {},
      'contradiction',
      'error',
      'rows.1.keep',
    ],
    [
      'a milder row that never decides',
      [limit(), limit({ ...second, keep: { min: 9 }, repair: { min: 7 } })],
      {},
      'shadowed',
      'warning',
      'rows.1',
    ],
    [
      'a stricter row that hides the first',
      [limit({ keep: { min: 9 }, repair: { min: 7 } }), limit(second)],
      {},
      'shadowed',
      'warning',
      'rows.0',
    ],
    [
      '33 left out between 25 and 35',
      [
        limit({ diameterCodes: { min: 25, max: 29 } }),
        limit({ ...second, diameterCodes: { min: 35, max: 49 } }),
      ],
      {},
      'gap',
      'warning',
      'rows.0.diameterCodes',
    ],
    [
      'a bound in inches',
      [
        limit({ diameterCodes: { min: 25, max: 25 } }),
        limit({
          ...second,
          diameterCodes: { min: 29, max: 29 },
          keep: { min: 0.394 },
          repair: { min: 0.315 },
        }),
      ],
      {},
      'mixed units',
      'warning',
      'rows.1.keep.min',
    ],
    [
      'a published source without a section',
      [limit({ source: { title: 'Book', edition: '2', kind: 'published' } })],
      {},
      'source',
      'warning',
      'rows.0.source.section',
    ],
    [
      'a maker’s source without an edition',
      [limit({ source: { title: 'Book', section: '3', kind: 'maker' } })],
      {},
      'source',
      'warning',
      'rows.0.source.edition',
    ],
    [
      'a bound on the wrong side',
      [limit({ keep: { max: 10 }, repair: { max: 12 } })],
      {},
      'worse is milder',
      'error',
      'rows.0',
    ],
    [
      'one defect, two answers',
      [defect(), defect({ ...second, verdict: 'repair', zones: ['gutter weld'] })],
      {},
      'contradiction',
      'warning',
      'rows.1',
    ],
    ['one defect, the same answer twice', [defect(), defect(second)], {}, 'overlap', 'warning', 'rows.1'],
    [
      'a pair that may and may not',
      [
        match(),
        match({
          ...second,
          together: 'may not',
          between: ['rim base', 'lock ring'],
          pairs: [[pair('ring')[1], pair('RING')[0]]],
        }),
      ],
      {},
      'contradiction',
      'error',
      'rows.1.pairs',
    ],
  ];
  test.each(faults)('%s', (_, rows, over, lint, severity, field) => {
    expect(all(rows, over)).toEqual([expect.objectContaining({ lint, severity, field })]);
  });

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
  test.each(sound)('%s: no error, and no gap', (_, rows) => {
    expect(
      all(rows).filter((one) => one.severity === 'error' || one.lint === 'gap' || one.lint === 'mixed units'),
    ).toEqual([]);
  });

  test('every finding says where and what to do', () => {
    for (const [, rows, over] of faults)
      for (const one of all(rows, over)) {
        expect(one.message.length).toBeGreaterThan(10);
        expect(one.wayOut).toMatch(/\.$/);
        expect(one.rows.length).toBeGreaterThan(0);
      }
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
