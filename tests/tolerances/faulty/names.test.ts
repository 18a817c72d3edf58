import { describe, expect, test } from 'vitest';
import { type LintFinding, lintTable } from '../../../lib/tolerances/index.ts';
import { tableOf } from '../../support/evidence.ts';
import { limit, match, second } from '../lintRows.ts';

const made = (maker: string, series = '') => ({ maker, series });
const base = made('Base', 'B');
const found = (rows: object[], scope: object = {}) => lintTable(tableOf(rows, { scope }));
const warning = (rows: string[], field: string, message: string, wayOut: string): LintFinding => ({
  lint: 'name',
  severity: 'warning',
  rows,
  field,
  message,
  wayOut,
});
const SAME = 'Write a maker in the same way everywhere, as it is noted for the parts.';

describe('one fault of a name that silently matches nothing, found at its place and alone', () => {
  test.each([
    ['a comma between makers', 'makers', 'Quillmoor, Hartwell', 'maker'],
    ['a semicolon between makers', 'makers', 'Quillmoor; Hartwell', 'maker'],
    ['a comma between series', 'series', 'QX,QY', 'series'],
  ])('%s', (_, list, name, what) => {
    expect(found([limit()], { [list]: ['Other', name] })).toEqual([
      warning(
        [],
        `scope.${list}.1`,
        `"${name}" is taken for one ${what}; a part of only one of the names is not meant by it`,
        `Give each ${what} an entry of its own.`,
      ),
    ]);
  });

  test.each(['Quillmoor Rimworks / QX', 'Quillmoor/QX', 'Quillmoor | QX'])(
    'a maker %j without a series',
    (name) => {
      expect(
        found([limit(), match({ ...second, together: 'may not', pairs: [[base, made(name)]] })]),
      ).toEqual([
        warning(
          ['second'],
          'rows.1.pairs.0.1.maker',
          `"${name}" is taken for a maker, of any series; if a part of it is the series, the pair is met by no part`,
          'Give maker and series apart; in a cell, write maker | series.',
        ),
      ]);
    },
  );

  test('such a maker is told once of a row, and of each row', () => {
    const twice = match({
      pairs: [
        [base, made('Q / X')],
        [made('Q / X'), base],
      ],
    });
    expect(found([twice, { ...twice, ...second }]).map(({ field }) => field)).toEqual([
      'rows.0.pairs.0.1.maker',
      'rows.1.pairs.0.1.maker',
    ]);
  });

  test.each([
    ['capitals', 'QUILLMOOR rimworks'],
    ['a doubled space', 'Quillmoor  Rimworks'],
    ['a no-break space', 'Quillmoor\u00A0Rimworks'],
    ['no space', 'QuillmoorRimworks'],
  ])('a maker of the scope that is written otherwise in a pair: %s', (_, name) => {
    expect(found([match({ pairs: [[base, made(name, 'QX')]] })], { makers: ['Quillmoor Rimworks'] })).toEqual(
      [
        warning(
          ['first'],
          'rows.0.pairs.0.1.maker',
          `"${name}" and "Quillmoor Rimworks" differ only in capitals or white space`,
          SAME,
        ),
      ],
    );
  });

  test('makers of two rows, and of the scope itself', () => {
    const rows = [
      match({ pairs: [[base, made('Ring')]] }),
      match({ ...second, pairs: [[base, made('RING')]] }),
    ];
    expect(found(rows)).toEqual([
      warning(
        ['first', 'second'],
        'rows.1.pairs.0.1.maker',
        '"RING" and "Ring" differ only in capitals or white space',
        SAME,
      ),
    ]);
    expect(found([limit()], { makers: ['Ring', 'ring'] })).toEqual([
      warning([], 'scope.makers.1', '"ring" and "Ring" differ only in capitals or white space', SAME),
    ]);
  });

  test('each other spelling is told once', () => {
    const pairs = ['Ring', 'RING', 'ring', 'RING'].map((name) => [base, made(name)]);
    expect(found([match({ pairs })]).map(({ rows, field }) => [...rows, field])).toEqual([
      ['first', 'rows.0.pairs.1.1.maker'],
      ['first', 'rows.0.pairs.2.1.maker'],
    ]);
  });

  test('none in names that say what they say', () => {
    const rows = [
      match({ pairs: [[base, made('Quillmoor', 'Q / X')]] }),
      match({ ...second, pairs: [[made('A/B', 'C'), made('Nobody else names this one')]] }),
    ];
    expect(found(rows, { makers: ['Quillmoor', 'Hartwell & Sons'], series: ['QX', 'Q X', 'qx'] })).toEqual(
      [],
    );
  });
});
