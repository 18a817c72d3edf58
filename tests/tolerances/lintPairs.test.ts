import { describe, expect, test } from 'vitest';
import { lintTable } from '../../lib/tolerances/index.ts';
import { tableOf } from '../support/evidence.ts';
import { defect, limit, match, pair, second } from './lintRows.ts';

/** What is found about several rows, as "lint field". */
function clashes(rows: object[], over: object = {}): string[] {
  return lintTable(tableOf(rows, over))
    .filter((one) => one.rows.length > 1)
    .map((one) => `${one.lint} ${one.field}`);
}

type Case = readonly [name: string, rows: object[], found: string[]];

/** A limit whose repair needs, methods and bounds are all named, so that each can be changed alone. */
const strict = { keep: { min: 10 }, repair: { min: 8 }, methods: ['gauge'], repairNeeds: 'rework' };
const mild = { ...second, keep: { min: 9 }, repair: { min: 7 }, methods: ['gauge'], repairNeeds: 'rework' };

const limits: readonly Case[] = [
  ['one that is milder everywhere never decides', [limit(strict), limit(mild)], ['shadowed rows.1']],
  [
    'one that is just as strict never decides; the later is named',
    [limit(strict), limit({ ...strict, ...second })],
    ['shadowed rows.1'],
  ],
  [
    'one that reaches farther decides elsewhere',
    [limit({ ...strict, diameterCodes: { min: 25, max: 33 } }), limit(mild)],
    ['overlap rows.1'],
  ],
  [
    'one that accepts photos decides on them',
    [limit(strict), limit({ ...mild, methods: ['gauge', 'photo'] })],
    ['overlap rows.1'],
  ],
  [
    'one that keeps less decides',
    [limit(strict), limit({ ...mild, keep: { min: 10.5 } })],
    ['overlap rows.1'],
  ],
  [
    'one that keeps less at the other end decides',
    [limit(strict), limit({ ...mild, keep: { min: 9, max: 30 } })],
    ['overlap rows.1'],
  ],
  [
    'one that scraps earlier decides',
    [limit(strict), limit({ ...mild, repair: { min: 8.5 } })],
    ['overlap rows.1'],
  ],
  [
    'one without repair scraps earlier and decides',
    [limit(strict), limit({ ...mild, repair: null })],
    ['overlap rows.1'],
  ],
  [
    'one whose repair is harder decides',
    [limit({ ...strict, repairNeeds: 'upkeep' }), limit(mild)],
    ['overlap rows.1'],
  ],
  [
    'one whose repair is easier never decides',
    [limit(strict), limit({ ...mild, repairNeeds: 'upkeep' })],
    ['shadowed rows.1'],
  ],
  [
    'both with upkeep: the milder never decides',
    [limit({ ...strict, repairNeeds: 'upkeep' }), limit({ ...mild, repairNeeds: 'upkeep' })],
    ['shadowed rows.1'],
  ],
  [
    'keep intervals that touch have a value in common',
    [
      limit({ ...strict, keep: { max: 12 }, repair: null }),
      limit({ ...mild, keep: { min: 12 }, repair: null }),
    ],
    ['overlap rows.1'],
  ],
  [
    'keep intervals apart have none',
    [
      limit({ ...strict, keep: { max: 12 }, repair: null }),
      limit({ ...mild, keep: { min: 12.1 }, repair: null }),
    ],
    ['contradiction rows.1.keep'],
  ],
  [
    'the other way round as well',
    [
      limit({ ...strict, keep: { min: 12.1 }, repair: null }),
      limit({ ...mild, keep: { max: 12 }, repair: null }),
    ],
    ['contradiction rows.1.keep'],
  ],
  [
    'bounds are compared as sizes',
    [
      limit({ ...strict, repair: null }),
      limit({ ...mild, boundsOf: 'percent lost', nominal: { value: 20 }, keep: { max: 55 }, repair: null }),
    ],
    ['shadowed rows.1'],
  ],
  [
    'repair bounds are compared as sizes',
    [
      limit(strict),
      limit({
        ...mild,
        boundsOf: 'from nominal',
        nominal: { value: 20 },
        keep: { min: -11 },
        repair: { min: -11.5 },
      }),
    ],
    ['overlap rows.1'],
  ],
  [
    'other characteristics are other matters',
    [
      limit({ ...strict, components: ['lock ring'], characteristic: 'pitting depth' }),
      limit({ ...mild, components: ['lock ring'], characteristic: 'crack length' }),
    ],
    [],
  ],
  [
    'other parts are other matters',
    [
      limit({ ...strict, diameterCodes: { min: 25, max: 25 } }),
      limit({ ...mild, diameterCodes: { min: 29, max: 29 } }),
    ],
    [],
  ],
  [
    'every two of three are looked at',
    [limit(strict), limit(mild), limit({ ...strict, row: 'third' })],
    ['shadowed rows.1', 'shadowed rows.2', 'shadowed rows.1'],
  ],
];

const defects: readonly Case[] = [
  [
    'in one zone',
    [defect({ zones: ['gutter weld'] }), defect({ ...second, zones: ['back weld', 'gutter weld'] })],
    ['overlap rows.1'],
  ],
  [
    'in one of several zones',
    [defect({ zones: ['back weld', 'gutter weld'] }), defect({ ...second, zones: ['gutter weld'] })],
    ['overlap rows.1'],
  ],
  ['in any zone and in one', [defect({ zones: ['gutter weld'] }), defect(second)], ['overlap rows.1']],
  ['in one zone and in any', [defect(), defect({ ...second, zones: ['gutter weld'] })], ['overlap rows.1']],
  [
    'not in different zones',
    [defect({ zones: ['gutter weld'] }), defect({ ...second, zones: ['back weld'] })],
    [],
  ],
  [
    'not of different components',
    [defect({ components: ['rim base'] }), defect({ ...second, components: ['lock ring'] })],
    [],
  ],
  [
    'not of different sizes',
    [
      defect({ diameterCodes: { min: 25, max: 29 } }),
      defect({ ...second, diameterCodes: { min: 33, max: 35 } }),
    ],
    [],
  ],
  ['not of different defects', [defect(), defect({ ...second, defects: ['bent'] })], []],
  ['with another verdict', [defect(), defect({ ...second, verdict: 'repair' })], ['contradiction rows.1']],
  [
    'with another length',
    [
      defect({ verdict: 'repair', repairUpToMm: 10 }),
      defect({ ...second, verdict: 'repair', repairUpToMm: 12 }),
    ],
    ['contradiction rows.1'],
  ],
  [
    'with another area',
    [defect({ verdict: 'repair', repairUpToMm2: 10 }), defect({ ...second, verdict: 'repair' })],
    ['contradiction rows.1'],
  ],
  [
    'with the same length and area',
    [
      defect({ verdict: 'repair', repairUpToMm: 10, repairUpToMm2: 9 }),
      defect({ ...second, verdict: 'repair', repairUpToMm: 10, repairUpToMm2: 9 }),
    ],
    ['overlap rows.1'],
  ],
];

const not = { ...second, together: 'may not' };
const matches: readonly Case[] = [
  ['may and may not', [match(), match(not)], ['contradiction rows.1.pairs']],
  ['may not and may', [match({ together: 'may not' }), match({ ...second })], ['contradiction rows.1.pairs']],
  ['twice the same', [match(), match(second)], []],
  ['another maker', [match(), match({ ...not, pairs: [pair('Other')] })], []],
  [
    'another series',
    [
      match(),
      match({
        ...not,
        pairs: [
          [
            { maker: 'Ring', series: 'X' },
            { maker: 'Base', series: 'B' },
          ],
        ],
      }),
    ],
    [],
  ],
  ['other components', [match(), match({ ...not, between: ['side flange', 'rim base'] })], []],
  [
    'the ends changed, though not the components',
    [match(), match({ ...not, pairs: [[...pair('Ring')].reverse()] })],
    [],
  ],
  [
    'other sizes',
    [match({ diameterCodes: { min: 25, max: 29 } }), match({ ...not, diameterCodes: { min: 33, max: 35 } })],
    [],
  ],
  [
    'sizes in common',
    [match({ diameterCodes: { min: 25, max: 33 } }), match({ ...not, diameterCodes: { min: 33, max: 35 } })],
    ['contradiction rows.1.pairs'],
  ],
  [
    'two of three pairs',
    [
      match({ pairs: [pair('A'), pair('B'), pair('C')] }),
      match({ ...not, pairs: [pair('C'), pair('D'), pair('A')] }),
    ],
    ['contradiction rows.1.pairs', 'contradiction rows.1.pairs'],
  ],
];

test('a pair may and may not go together in whatever capitals its makers are written', () => {
  const found = lintTable(tableOf([match(), match({ ...not, pairs: [pair('RING')] })]));
  expect(found.filter(({ lint }) => lint === 'contradiction').map(({ message }) => message)).toEqual([
    'The same pair may and may not go together: lock ring of ring with rim base of base b',
  ]);
});

describe('two rows that speak of the same parts', () => {
  for (const [group, cases] of Object.entries({ limits, defects, matches })) {
    describe(group, () => {
      test.each(cases)('%s', (_, rows, found) => {
        expect(clashes(rows)).toEqual(found);
      });
    });
  }
});
