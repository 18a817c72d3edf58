import { describe, expect, test } from 'vitest';
import { problemText } from '../../../lib/base/index.ts';
import { parseTable } from '../../../lib/tolerances/index.ts';
import { problemsIn, reading, sound, type Type, tableOfRow, tableWith } from './sound.ts';

/** What one field alone does not show: the sentence of the problem. */
const ruleFaults: readonly (readonly [name: string, candidate: object, problem: string])[] = [
  [
    'a last day before the first',
    tableWith({ effectiveUntil: '1999-12-31' }),
    'table-effective: effectiveUntil: The last day of effect lies before the first, 2000-01-01 (received 1999-12-31). Give a later day, or none for a table without an end.',
  ],
  [
    'a lower keep bound beyond the repair bound',
    tableOfRow('limit', { keep: { min: 7 } }),
    'table-keep-beyond-repair: rows.0.keep.min: The keep bound lies beyond the repair bound (received 7). Every value that may be kept must lie inside the repair bounds too.',
  ],
  [
    'no lower keep bound where there is one of repair',
    tableOfRow('limit', { keep: { max: 20 } }),
    'table-keep-beyond-repair: rows.0.keep.min: The keep bound lies beyond the repair bound (received nothing). Every value that may be kept must lie inside the repair bounds too.',
  ],
  [
    'an upper keep bound beyond the repair bound',
    tableOfRow('limit', { keep: { max: 4 }, repair: { max: 3 } }),
    'table-keep-beyond-repair: rows.0.keep.max: The keep bound lies beyond the repair bound (received 4). Every value that may be kept must lie inside the repair bounds too.',
  ],
  [
    'no upper keep bound where there is one of repair',
    tableOfRow('limit', { keep: { min: 9 }, repair: { min: 8, max: 30 } }),
    'table-keep-beyond-repair: rows.0.keep.max: The keep bound lies beyond the repair bound (received nothing). Every value that may be kept must lie inside the repair bounds too.',
  ],
  [
    'bounds from nominal without the nominal size',
    tableOfRow('limit', { boundsOf: 'from nominal' }),
    'table-nominal: rows.0.nominal: Bounds of "from nominal" need the nominal size (received nothing). Give the nominal size, that of the new part, or give the bounds as sizes.',
  ],
  [
    'bounds in percent without the nominal size',
    tableOfRow('limit', { boundsOf: 'percent lost', keep: { max: 5 }, repair: null }),
    'table-nominal: rows.0.nominal: Bounds of "percent lost" need the nominal size (received nothing). Give the nominal size, that of the new part, or give the bounds as sizes.',
  ],
  [
    'a test within no time',
    tableOfRow('test', { withinMonths: undefined }),
    'table-interval: rows.0.withinMonths: The row does not say how long (received nothing). Give a number of months, of hours on duty, or both.',
  ],
  [
    'an age without an end',
    tableOfRow('age', { upToYears: undefined }),
    'table-interval: rows.0.upToYears: The row does not say how long (received nothing). Give a number of years, of hours on duty, or both.',
  ],
  [
    'a name twice',
    tableWith({ rows: [sound.defect, { ...sound.test, row: 'b' }, sound.limit] }),
    'table-row-id: rows.2.row: Two rows have this name (received a). Give each row its own name.',
  ],
];

describe('one broken rule of a table, told at its place and alone', () => {
  test.each(Object.entries(sound))('none in the sound row of type %s', (_, row) => {
    expect(problemsIn(tableWith({ rows: [row] }))).toEqual([]);
  });

  test.each(ruleFaults)('%s', (_, candidate, problem) => {
    expect(problemsIn(candidate).map((one) => `${one.code}: ${problemText(one)}`)).toEqual([problem]);
  });
});

describe('what lies just within', () => {
  const within: readonly (readonly [name: string, type: Type, over: object])[] = [
    ['bounds of one value', 'limit', { keep: { min: 10, max: 10 }, repair: null }],
    ['a keep interval that is the repair interval', 'limit', { keep: { min: 8 } }],
    [
      'bounds from nominal with the nominal size',
      'limit',
      { boundsOf: 'from nominal', nominal: { value: 40 } },
    ],
    ['bounds of the value, said so, without a nominal size', 'limit', { boundsOf: 'value' }],
    ['a test within hours alone', 'test', { withinMonths: undefined, withinHours: 1 }],
    ['an age in hours alone', 'age', { upToYears: undefined, upToHours: 1 }],
    [
      'twelve positions, twelve o’clock among them',
      'evidence',
      { ask: { ...reading, positions: Array(12).fill(12) } },
    ],
  ];
  test.each(within)('%s', (_, type, over) => {
    expect(problemsIn(tableOfRow(type, over))).toEqual([]);
  });

  test('white space about titles and the makers of pairs, which is taken away', () => {
    const padded = {
      source: { title: ' T ', section: ' 1 ', page: ' 2 ', edition: ' 3 ', kind: 'site' },
      pairs: [
        [
          { maker: ' A ', series: ' B ' },
          { maker: 'C', series: '' },
        ],
      ],
    };
    const read = parseTable({
      ...tableOfRow('match', padded),
      title: ' T ',
      issuedBy: ' tests ',
    });
    expect(read).toMatchObject({
      value: {
        title: 'T',
        issuedBy: 'tests',
        rows: [
          {
            source: { title: 'T', section: '1', page: '2', edition: '3' },
            pairs: [[{ maker: 'A', series: 'B' }, { maker: 'C' }]],
          },
        ],
      },
    });
  });

  test('a table in effect for one day', () => {
    expect(problemsIn(tableWith({ effectiveUntil: '2000-01-01' }))).toEqual([]);
  });
});

test('every problem of a table is told at once, field by field or, when the fields are sound, rule by rule', () => {
  const wrong = { ...sound.limit, methods: [], keep: {}, row: '' };
  expect(problemsIn(tableWith({ title: '', rows: [wrong] })).map(({ field }) => field)).toEqual([
    'title',
    'rows.0.row',
    'rows.0.keep',
    'rows.0.methods',
  ]);
  const rows = [
    { ...sound.limit, keep: { min: 7, max: 20 }, repair: { min: 8, max: 19 } },
    { ...sound.limit, boundsOf: 'from nominal' },
    { ...sound.test, row: 'b', withinMonths: undefined },
  ];
  expect(problemsIn(tableWith({ effectiveUntil: '1999-01-01', rows })).map(({ field }) => field)).toEqual([
    'rows.1.row',
    'rows.0.keep.min',
    'rows.0.keep.max',
    'rows.1.nominal',
    'rows.2.withinMonths',
    'effectiveUntil',
  ]);
});
