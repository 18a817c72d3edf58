import { describe, expect, test } from 'vitest';
import { LINE_KINDS, optionsOf, tableFromCsv } from '../../lib/tolerances/index.ts';
import {
  csvOf,
  defectLine,
  evidenceLine,
  type Line,
  limitLine,
  matchLine,
  tableLine,
  testLine,
} from './csvLines.ts';

const ageLine: Line = {
  ...testLine,
  type: 'age',
  methods: '',
  'within months': '',
  'up to years': '10',
  beyond: 'scrap',
  unknown: 'hold',
  says: 'Ten years.',
};
const relative = { ...limitLine, 'keep min': '0', 'repair min': '0', nominal: '40' };

/** A sound line of a kind in which each of the words that a column offers is tried. */
const offered: readonly (readonly [
  column: string,
  kind: (typeof LINE_KINDS)[number],
  line: Line,
  words: string[],
])[] = [
  ['decision rule', 'table', tableLine, ['guarded', 'simple acceptance']],
  ['bounds of', 'limit', relative, ['value', 'from nominal', 'percent lost']],
  ['unit', 'limit', limitLine, ['mm', 'in']],
  ['repair needs', 'limit', limitLine, ['rework', 'upkeep']],
  ['states', 'limit', limitLine, ['free', 'fitted', 'inflated']],
  ['methods', 'limit', limitLine, ['gauge', 'photo']],
  ['methods', 'test', testLine, ['magnetic particle', 'penetrant', 'ultrasonic']],
  ['verdict', 'defect', defectLine, ['repair', 'scrap']],
  ['beyond', 'age', ageLine, ['repair', 'scrap']],
  ['unknown', 'age', ageLine, ['hold', 'repair', 'scrap']],
  ['together', 'match', matchLine, ['may', 'may not']],
  ['state', 'evidence (reading)', evidenceLine, ['free', 'fitted', 'inflated']],
  [
    'source kind',
    'limit',
    limitLine,
    ['published', 'maker', 'site', 'common practice', 'from memory', 'demonstration'],
  ],
];

describe('the words that a column offers', () => {
  test.each(offered)('%s of %s: all that a table takes, and no other', (column, kind, line, words) => {
    const taken = (word: string) => {
      const changed = { ...line, [column]: word };
      const file = kind === 'table' ? csvOf(changed, limitLine) : csvOf(tableLine, changed);
      return tableFromCsv(file).ok;
    };
    expect(optionsOf(column, kind)).toEqual(words);
    expect(words.filter((word) => !taken(word))).toEqual([]);
    expect(taken('something else')).toBe(false);
  });

  test.each(['components', 'between', 'zones', 'constructions', 'characteristic', 'defects'])(
    '%s: some',
    (column) => {
      for (const kind of LINE_KINDS) expect(optionsOf(column, kind)?.length).toBeGreaterThan(3);
    },
  );

  test('are none where anything may be written', () => {
    for (const column of ['name', 'note', 'keep min', 'pairs']) expect(optionsOf(column, 'limit')).toBeNull();
  });
});
