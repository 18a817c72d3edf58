import { describe, expect, test } from 'vitest';
import type { Lint, LintFinding } from '../../../lib/tolerances/index.ts';
import { testSource } from '../../support/evidence.ts';
import { defect, findingsIn, limit, match, pair, second } from '../lintRows.ts';

type Fault = readonly [name: string, rows: object[], over: object, expected: LintFinding];

const error = (lint: Lint, rows: string[], field: string, message: string, wayOut: string): LintFinding => ({
  lint,
  severity: 'error',
  rows,
  field,
  message,
  wayOut,
});
const warning = (...[lint, rows, field, message, wayOut]: Parameters<typeof error>): LintFinding => ({
  ...error(lint, rows, field, message, wayOut),
  severity: 'warning',
});
/** A limit that is worse on either side. */
const gap = (over: object = {}) =>
  limit({
    components: ['lock ring'],
    characteristic: 'lock-ring gap',
    states: ['fitted'],
    keep: { min: 4, max: 10 },
    repair: null,
    ...over,
  });
const both = ['first', 'second'];

const nothing: readonly Fault[] = [
  [
    'a diameter range without a rim in it',
    [limit({ diameterCodes: { min: 26, max: 28 } })],
    {},
    error(
      'reaches nothing',
      ['first'],
      'rows.0.diameterCodes',
      'No diameter code of earthmover rims lies between 26 and 28',
      'Give a range that takes in some of 24, 25, 29, 33, 35, 39, 43, 45, 49, 51, 57, 63.',
    ),
  ],
  [
    'pairs for a diameter that no rim has',
    [match({ diameterCodes: { min: 1, max: 2 } })],
    {},
    error(
      'reaches nothing',
      ['first'],
      'rows.0.diameterCodes',
      'No diameter code of earthmover rims lies between 1 and 2',
      'Give a range that takes in some of 24, 25, 29, 33, 35, 39, 43, 45, 49, 51, 57, 63.',
    ),
  ],
  [
    'components outside the scope',
    [defect({ components: ['rim base'] })],
    { scope: { components: ['lock ring'] } },
    error(
      'reaches nothing',
      ['first'],
      'rows.0.components',
      'None of these components is in the scope of the table',
      'Name other components, or widen the scope.',
    ),
  ],
  [
    'a depth where none is taken',
    [limit(), limit({ ...second, components: ['lock ring'] })],
    {},
    error(
      'reaches nothing',
      ['second'],
      'rows.1',
      'Gutter depth is not taken in the places this row names',
      'It is taken on: rim base (gutter groove). Correct components, zones, states or diameterCodes.',
    ),
  ],
  [
    'wear where none is taken',
    [
      limit({
        characteristic: 'bead seat wear',
        components: undefined,
        zones: ['gutter lip', 'gutter weld'],
      }),
    ],
    {},
    error(
      'reaches nothing',
      ['first'],
      'rows.0',
      'Bead seat wear is not taken in the places this row names',
      'It is taken on: rim base (back bead seat); bead seat band (bead seat); side flange (bead seat). Correct components, zones, states or diameterCodes.',
    ),
  ],
  [
    'pitting where none is taken',
    [
      limit({
        characteristic: 'pitting depth',
        components: ['lock ring'],
        zones: ['gutter lip'],
        keep: { max: 1 },
        repair: null,
      }),
    ],
    {},
    {
      ...error(
        'reaches nothing',
        ['first'],
        'rows.0',
        'Pitting depth is not taken in the places this row names',
        '',
      ),
      wayOut: expect.stringContaining(
        '; lock ring (ring ends, ring body, ring seat face); side flange (flange lip, ',
      ),
    },
  ],
];

const together: readonly Fault[] = [
  [
    'two limits on one part',
    [limit(), limit({ ...second, keep: { min: 9 }, repair: { min: 8.5 } })],
    {},
    warning(
      'overlap',
      both,
      'rows.1',
      'Both rows speak of the same parts; the stricter answer will win',
      'Narrow components, zones, states or diameterCodes if only one is meant.',
    ),
  ],
  [
    'no value that both keep',
    [gap(), gap({ ...second, keep: { min: 10.1, max: 16 } })],
    {},
    error(
      'contradiction',
      both,
      'rows.1.keep',
      'No value lies within keep of both rows: such a part can never be kept',
      'Correct the bounds, or let the rows speak of different parts.',
    ),
  ],
  [
    'a milder row that never decides',
    [limit(), limit({ ...second, keep: { min: 9 }, repair: { min: 7 } })],
    {},
    warning(
      'shadowed',
      both,
      'rows.1',
      '"second" never decides: "first" speaks of the same parts and is as strict or stricter',
      'Remove the row, or let the other speak of different parts.',
    ),
  ],
  [
    'a stricter row that hides the first',
    [limit({ keep: { min: 9 }, repair: { min: 7 } }), limit(second)],
    {},
    warning(
      'shadowed',
      both,
      'rows.0',
      '"first" never decides: "second" speaks of the same parts and is as strict or stricter',
      'Remove the row, or let the other speak of different parts.',
    ),
  ],
  [
    'one defect, two answers',
    [
      defect({ defects: ['bent', 'crack'] }),
      defect({ ...second, defects: ['crack', 'broken', 'bent'], verdict: 'repair', zones: ['gutter weld'] }),
    ],
    {},
    warning(
      'contradiction',
      both,
      'rows.1',
      'The rows say different things of bent, crack in the same place; the stricter will win',
      'Let them speak of different zones or parts, or keep one.',
    ),
  ],
  [
    'one defect, the same answer twice',
    [defect(), defect(second)],
    {},
    warning('overlap', both, 'rows.1', 'Both rows say the same of crack', 'Keep one of them.'),
  ],
  [
    'a pair that may and may not, named from the other end',
    [
      match(),
      match({
        ...second,
        together: 'may not',
        between: ['rim base', 'lock ring'],
        pairs: [[pair('Ring')[1], pair('Ring')[0]]],
      }),
    ],
    {},
    error(
      'contradiction',
      both,
      'rows.1.pairs',
      'The same pair may and may not go together: lock ring of ring with rim base of base b',
      'Remove the pair from one of the rows.',
    ),
  ],
];

const doubtful: readonly Fault[] = [
  [
    '33 left out between 25 and 35',
    [
      limit({ diameterCodes: { min: 25, max: 29 } }),
      limit({ ...second, diameterCodes: { min: 35, max: 49 } }),
    ],
    {},
    warning(
      'gap',
      both,
      'rows.0.diameterCodes',
      'Gutter depth, rim base: no limit for diameter 33, though smaller and larger rims have one',
      'Widen a row, or add one for these diameters; without a limit such a part is held.',
    ),
  ],
  [
    'a state that has no limit for some sizes',
    ['free', 'fitted']
      .flatMap((state) =>
        [25, 39].map((code) =>
          limit({
            row: `${state} ${code}`,
            components: ['lock ring'],
            characteristic: 'lock-ring gap',
            states: [state],
            diameterCodes: state === 'free' ? { min: code, max: 39 } : { min: code, max: code },
            keep: state === 'free' ? { min: -70, max: -code } : { min: 2, max: 9 },
            repair: null,
          }),
        ),
      )
      .filter((row) => row.row !== 'free 39'),
    {},
    warning(
      'gap',
      ['fitted 25', 'fitted 39'],
      'rows.1.diameterCodes',
      'Lock-ring end gap (fitted), lock ring: no limit for diameter 29, 33, 35, though smaller and larger rims have one',
      'Widen a row, or add one for these diameters; without a limit such a part is held.',
    ),
  ],
  [
    'a lower bound in inches',
    [
      limit({ diameterCodes: { min: 25, max: 25 } }),
      limit({ ...second, diameterCodes: { min: 29, max: 29 }, keep: { min: 0.394 }, repair: { min: 0.315 } }),
    ],
    {},
    warning(
      'mixed units',
      both,
      'rows.1.keep.min',
      '10 and 0.394 differ by the factor between inches and millimetres',
      'Bounds are in mm and mm². Convert the one that is in inches.',
    ),
  ],
  [
    'an upper bound in square millimetres, the other in square inches',
    [
      limit({
        characteristic: 'corrosion area',
        components: ['lock ring'],
        keep: { max: 6.2 },
        repair: null,
      }),
      limit({ ...second, characteristic: 'corrosion area', keep: { max: 4000 }, repair: null }),
    ],
    {},
    warning(
      'mixed units',
      both,
      'rows.1.keep.max',
      '6.2 and 4000 differ by the factor between inches and millimetres',
      'Bounds are in mm and mm². Convert the one that is in inches.',
    ),
  ],
  [
    'a published source without section and page',
    [limit({ source: { title: 'Book', edition: '2', kind: 'published' } })],
    {},
    warning(
      'source',
      ['first'],
      'rows.0.source.section',
      'A published source without section or page cannot be found again',
      'Give the section or the page, or mark the source "from memory".',
    ),
  ],
  [
    'a maker’s source without an edition',
    [limit({ source: { title: 'Book', section: '3', kind: 'maker' } })],
    {},
    warning(
      'source',
      ['first'],
      'rows.0.source.edition',
      'A maker source without its edition cannot be checked later',
      'Give the edition or the date of issue.',
    ),
  ],
  [
    'a rule of the site without section and page',
    [limit({ source: { title: 'Rules', edition: '2', kind: 'site' } })],
    {},
    warning(
      'source',
      ['first'],
      'rows.0.source.section',
      'A site source without section or page cannot be found again',
      'Give the section or the page, or mark the source "from memory".',
    ),
  ],
  [
    'a bound on the wrong side',
    [limit({ keep: { max: 10 }, repair: { max: 12 } })],
    {},
    error(
      'worse is milder',
      ['first'],
      'rows.0',
      'Gutter depth, gutter groove: 10.00 mm gets a milder verdict than 10.04 mm, though it is worse',
      'A lower value is worse here: check which bounds are min and which are max.',
    ),
  ],
];

describe('one fault of a sound table at a time, found at its place and alone', () => {
  for (const [group, faults] of Object.entries({ nothing, together, doubtful })) {
    describe(group, () => {
      test.each(faults)('%s', (_, rows, over, expected) => {
        expect(findingsIn(rows, over)).toEqual([expected]);
      });
    });
  }

  test('what is found comes in the order of the rows, and about one row in the order of what is looked for', () => {
    const source = { title: 'Book', kind: 'published' };
    const found = findingsIn([
      limit({ source: testSource }),
      limit({ ...second, source, components: ['O-ring'] }),
      limit({ row: 'third', keep: { min: 9 }, repair: { min: 8.5 }, source }),
    ]);
    expect(found.map(({ rows, lint, field }) => [rows.join(), lint, field])).toEqual([
      ['first,third', 'overlap', 'rows.2'],
      ['second', 'reaches nothing', 'rows.1'],
      ['second', 'source', 'rows.1.source.section'],
      ['second', 'source', 'rows.1.source.edition'],
      ['third', 'source', 'rows.2.source.section'],
      ['third', 'source', 'rows.2.source.edition'],
    ]);
  });
});
