import { findWorseButMilder } from '../../lib/rules/index.ts';
import { type LintFinding, lintTable } from '../../lib/tolerances/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';

/** Sound rows; what a test is about overrides. */
export const limit = (over: object = {}) => ({
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
export const defect = (over: object = {}) => ({
  row: 'first',
  type: 'defect',
  defects: ['crack'],
  verdict: 'scrap',
  says: 'Cracked parts go.',
  source: testSource,
  ...over,
});
export const pair = (ring: string) => [
  { maker: ring, series: '' },
  { maker: 'Base', series: 'B' },
];
export const match = (over: object = {}) => ({
  row: 'first',
  type: 'match',
  between: ['lock ring', 'rim base'],
  pairs: [pair('Ring')],
  together: 'may',
  says: 'The ring suits.',
  source: testSource,
  ...over,
});
export const second = { row: 'second' };

/** Everything that is found in a table of these rows. */
export function findingsIn(rows: object[], over: object = {}): LintFinding[] {
  const table = tableOf(rows, over);
  return [...lintTable(table), ...findWorseButMilder(table)];
}
