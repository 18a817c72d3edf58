import { describe, expect, test } from 'vitest';
import { lintTable } from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { defect, limit, match } from './lintRows.ts';

/** What is found in a table of these rows, as "lint field". */
function findings(rows: object[], over: object = {}): string[] {
  return lintTable(tableOf(rows, over)).map((one) => `${one.lint} ${one.field}`);
}

const units: readonly (readonly [name: string, rows: object[], found: string[]])[] = (() => {
  const at = (code: number, keep: object, over: object = {}) =>
    limit({ row: `${code}`, diameterCodes: { min: code, max: code }, keep, repair: null, ...over });
  const two = (a: object, b: object, over: object = {}) => [at(24, a, over), at(25, b, over)];
  const inInches = (row: 'min' | 'max') => [`mixed units rows.1.keep.${row}`];
  const nominal = { value: 40 };
  return [
    ['25.4 times as much', two({ min: 1 }, { min: 25.4 }), inInches('min')],
    ['a 25.4th', two({ max: 25.4 }, { max: 1 }), inInches('max')],
    ['nearly 25.4 times as much', two({ min: 1 }, { min: 23 }), inInches('min')],
    ['a little more than 25.4 times as much', two({ min: 1 }, { min: 27.9 }), inInches('min')],
    ['a tenth less than 25.4 times as much', two({ min: 1 }, { min: 22.86 }), inInches('min')],
    ['a tenth more than 25.4 times as much', two({ min: 1 }, { min: 27.94 }), inInches('min')],
    ['hardly 25.4 times as much', two({ min: 1 }, { min: 22.8 }), []],
    ['much more than 25.4 times as much', two({ min: 1 }, { min: 28 }), []],
    ['below zero as well', two({ min: -1 }, { min: -25.4 }), inInches('min')],
    ['not across zero', two({ min: -1 }, { min: 25.4 }), []],
    ['not between the ends of intervals', two({ min: 1 }, { max: 25.4 }), []],
    ['not from zero', two({ min: 0 }, { min: 25.4 }), []],
    [
      'the square of it for areas',
      two({ max: 1 }, { max: 645.16 }, { components: ['lock ring'], characteristic: 'corrosion area' }),
      inInches('max'),
    ],
    [
      'not the factor itself for areas',
      two({ max: 1 }, { max: 25.4 }, { components: ['lock ring'], characteristic: 'corrosion area' }),
      [],
    ],
    [
      'not for percentages, which have no unit',
      two({ max: 1 }, { max: 25.4 }, { boundsOf: 'percent lost', nominal }),
      [],
    ],
    [
      'for bounds from nominal',
      two({ min: -1 }, { min: -25.4 }, { boundsOf: 'from nominal', nominal }),
      inInches('min'),
    ],
    [
      'not between bounds of different sorts',
      [at(24, { min: 1 }), at(25, { min: 25.4 }, { boundsOf: 'from nominal', nominal })],
      [],
    ],
    [
      'whether the value is named or meant',
      [at(24, { min: 1 }), at(25, { min: 25.4 }, { boundsOf: 'value' })],
      inInches('min'),
    ],
    [
      'not between characteristics',
      [
        at(24, { min: 1 }),
        at(25, { min: 25.4 }, { components: ['lock ring'], characteristic: 'pitting depth' }),
      ],
      [],
    ],
  ];
})();

describe('bounds that differ by the factor between inches and millimetres', () => {
  test.each(units)('%s', (_, rows, found) => {
    expect(findings(rows)).toEqual(found);
  });
});

describe('gaps between sizes', () => {
  const at = (row: string, min: number, max: number, over: object = {}) =>
    limit({ row, diameterCodes: { min, max }, keep: { min: min / 2 }, repair: null, ...over });
  const gaps = (rows: object[], over: object = {}) =>
    lintTable(tableOf(rows, over)).filter((one) => one.lint === 'gap');

  test('are the sizes between the smallest and the largest of which no row speaks', () => {
    expect(
      gaps([at('a', 24, 25), at('b', 33, 35), at('c', 43, 43)]).map((one) => [one.rows, one.message]),
    ).toEqual([
      [
        ['a', 'b', 'c'],
        'Gutter depth, rim base: no limit for diameter 29, 39, though smaller and larger rims have one',
      ],
    ]);
  });

  test('are none beyond the smallest and the largest, nor between neighbours', () => {
    expect(gaps([at('a', 29, 33), at('b', 35, 39)])).toEqual([]);
  });

  test('are closed by a row of any size that speaks of the same', () => {
    const ends = [at('a', 24, 24), at('b', 33, 33)];
    const any = { row: 'any', keep: { min: 1 }, repair: null };
    expect(gaps([...ends, limit(any)])).toEqual([]);
    const pitting = { ...any, characteristic: 'pitting depth', keep: { max: 1 } };
    expect(gaps([...ends, limit(pitting)])).toHaveLength(1);
  });

  test('of several zones of a component are told once, of several components apart', () => {
    const pits = { characteristic: 'pitting depth', components: ['rim base', 'lock ring'] };
    const rows = [
      at('a', 24, 24, { ...pits, keep: { max: 1 } }),
      at('b', 29, 29, { ...pits, keep: { max: 1.1 } }),
    ];
    expect(gaps(rows).map((one) => one.message)).toEqual([
      'Pitting depth, rim base: no limit for diameter 25, though smaller and larger rims have one',
      'Pitting depth, lock ring: no limit for diameter 25, though smaller and larger rims have one',
    ]);
  });

  test('are none outside the scope of the table', () => {
    expect(
      gaps([at('a', 24, 25), at('b', 33, 35)], { scope: { diameterCodes: { min: 33, max: 63 } } }),
    ).toEqual([]);
  });
});

describe('sources', () => {
  const about = (source: object) => findings([limit({ source })]);

  test.each(['published', 'maker', 'site'])('that are %s need section or page, and the edition', (kind) => {
    expect(about({ title: 'T', kind })).toEqual([
      'source rows.0.source.section',
      'source rows.0.source.edition',
    ]);
    expect(about({ title: 'T', kind, section: '1', edition: '2' })).toEqual([]);
    expect(about({ title: 'T', kind, page: '1', edition: '2' })).toEqual([]);
  });

  test.each(['common practice', 'from memory', 'demonstration'])(
    'that are %s cannot be looked up',
    (kind) => {
      expect(about({ ...testSource, kind })).toEqual([]);
    },
  );
});

describe('rows that reach nothing', () => {
  const about = (rows: object[], scope: object) => findings(rows, { scope });

  test('are none where a component is left in the scope', () => {
    const row = limit({ components: ['rim base', 'O-ring'] });
    expect(about([row], { components: ['rim base'] })).toEqual([]);
    expect(about([defect({ components: ['lock ring', 'O-ring'] })], { components: ['O-ring'] })).toEqual([]);
  });

  test('are none among pairs, which the components of the scope do not narrow', () => {
    expect(about([match()], { components: ['O-ring'] })).toEqual([]);
  });

  test('are limits outside the sizes of the table', () => {
    const row = limit({ diameterCodes: { min: 25, max: 29 } });
    expect(about([row], { diameterCodes: { min: 33, max: 63 } })).toEqual(['reaches nothing rows.0']);
  });
});
