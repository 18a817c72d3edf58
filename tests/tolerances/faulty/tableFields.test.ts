import { describe, expect, test } from 'vitest';
import { ComponentKind } from '../../../lib/wheel/index.ts';
import { EMPTY, long, oneOf, problemOf, problemsIn, sound, tableWith, tooFew, tooLong } from './sound.ts';

const OUTER = 'White space stands before or after it, which makes it another name';

const tableFaults: readonly (readonly [name: string, over: object, field: string, message: string])[] = [
  ['no identity', { table: '' }, 'table', EMPTY],
  ['an identity that is too long', { table: long(80) }, 'table', tooLong(80)],
  ['a title of white space', { title: ' ' }, 'title', EMPTY],
  ['a title that is too long', { title: long(200) }, 'title', tooLong(200)],
  ['no edition', { edition: '' }, 'edition', EMPTY],
  ['an edition of white space', { edition: ' ' }, 'edition', OUTER],
  ['white space after an edition', { edition: '2 ' }, 'edition', OUTER],
  ['white space after an identity', { table: 'own ' }, 'table', OUTER],
  ['white space before an identity', { table: ' own' }, 'table', OUTER],
  ['a no-break space after an identity', { table: 'own\u00A0' }, 'table', OUTER],
  ['something unseen before an identity', { table: '\u200Bown' }, 'table', OUTER],
  ['white space before a maker', { scope: { makers: ['A', '\tB'] } }, 'scope.makers.1', OUTER],
  ['white space after a maker', { scope: { makers: ['A\n'] } }, 'scope.makers.0', OUTER],
  ['white space after a series', { scope: { series: ['QX '] } }, 'scope.series.0', OUTER],
  ['an edition that is too long', { edition: long(160) }, 'edition', tooLong(160)],
  ['nobody who issued it', { issuedBy: ' ' }, 'issuedBy', EMPTY],
  ['an issuer that is too long', { issuedBy: long(120) }, 'issuedBy', tooLong(120)],
  ['no scope', { scope: undefined }, 'scope', 'Invalid input: expected object, received undefined'],
  ['a scope of something else', { scope: { sizes: [25] } }, 'scope.sizes', 'Unrecognized key: "sizes"'],
  ['a maker without a name', { scope: { makers: ['A', ''] } }, 'scope.makers.1', EMPTY],
  ['a series without a name', { scope: { series: [''] } }, 'scope.series.0', EMPTY],
  [
    'a construction that is not known',
    { scope: { constructions: ['six-piece'] } },
    'scope.constructions.0',
    oneOf('three-piece', 'three-piece with disc', 'five-piece', 'double-gutter seven-piece'),
  ],
  ['a scope of no component', { scope: { components: [] } }, 'scope.components', tooFew(1)],
  [
    'a component that is not known',
    { scope: { components: ['hub'] } },
    'scope.components.0',
    oneOf(...ComponentKind.options),
  ],
  [
    'half a range of diameters',
    { scope: { diameterCodes: { min: 25 } } },
    'scope.diameterCodes.max',
    'Invalid input: expected number, received undefined',
  ],
  ['a first day that is none', { effectiveFrom: '2000-02-30' }, 'effectiveFrom', 'Invalid ISO date'],
  ['a last day that is none', { effectiveUntil: '1.5.2030' }, 'effectiveUntil', 'Invalid ISO date'],
  [
    'a rule of decision that is not known',
    { decision: { rule: 'lenient' } },
    'decision.rule',
    oneOf('guarded', 'simple acceptance'),
  ],
  [
    'no risk at all',
    { decision: { rule: 'guarded', risk: 0 } },
    'decision.risk',
    'Too small: expected number to be >0',
  ],
  [
    'a risk of one half',
    { decision: { rule: 'guarded', risk: 0.5 } },
    'decision.risk',
    'Too big: expected number to be <0.5',
  ],
  ['a member that no table has', { colour: 'red' }, 'colour', 'Unrecognized key: "colour"'],
  ['no rows', { rows: [] }, 'rows', tooFew(1)],
  [
    'a type that is not known',
    { rows: [{ ...sound.limit, type: 'wish' }] },
    'rows.0.type',
    "Invalid discriminator value. Expected 'limit' | 'defect' | 'no rework' | 'test' | 'age' | 'match' | 'evidence'",
  ],
];

describe('one faulty field of a table, told at its place and alone', () => {
  test.each(tableFaults)('%s', (_, over, field, message) => {
    const candidate = tableWith(over);
    expect(problemsIn(candidate)).toEqual([problemOf(candidate, field, message)]);
  });

  test('white space within a name belongs to it', () => {
    expect(
      problemsIn(
        tableWith({ table: 'own limits', edition: '2nd ed.', scope: { makers: ['A B'], series: ['Q X'] } }),
      ),
    ).toEqual([]);
  });

  test('something that is no table', () => {
    expect(problemsIn([])).toEqual([problemOf([], '', 'Invalid input: expected object, received array')]);
  });
});
