import { type Problem, shown, valueAt } from '../../../lib/base/index.ts';
import { parseTable } from '../../../lib/tolerances/index.ts';

export const source = { title: 'Test', kind: 'demonstration' };

/** A sound row of each type; a fault is put into a copy. */
export const sound = {
  limit: {
    row: 'a',
    type: 'limit',
    characteristic: 'gutter depth',
    keep: { min: 10 },
    repair: { min: 8 },
    methods: ['gauge'],
    source,
  },
  defect: { row: 'a', type: 'defect', defects: ['crack'], verdict: 'scrap', says: 'Out.', source },
  'no rework': { row: 'a', type: 'no rework', says: 'No heat.', source },
  test: { row: 'a', type: 'test', methods: ['penetrant'], withinMonths: 12, source },
  age: {
    row: 'a',
    type: 'age',
    upToYears: 10,
    beyond: 'scrap',
    unknown: 'hold',
    says: 'Ten years.',
    source,
  },
  match: {
    row: 'a',
    type: 'match',
    between: ['lock ring', 'rim base'],
    pairs: [
      [
        { maker: 'A', series: '' },
        { maker: 'B', series: 'C' },
      ],
    ],
    together: 'may',
    says: 'Suits.',
    source,
  },
  evidence: { row: 'a', type: 'evidence', ask: { what: 'photo' }, source },
} as const;
export type Type = keyof typeof sound;

export const reading = { what: 'reading', characteristic: 'gutter depth', positions: [], repeats: 1 };
export const side = { maker: 'A', series: '' };
/** One character more than a text may have. */
export const long = (max: number) => 'x'.repeat(max + 1);

/** A sound table with some of it replaced. */
export function tableWith(over: object): object {
  return {
    table: 't',
    title: 'T',
    edition: '1',
    issuedBy: 'tests',
    scope: {},
    effectiveFrom: '2000-01-01',
    decision: { rule: 'guarded' },
    rows: [sound.defect],
    ...over,
  };
}
/** A sound table of one row with some of it replaced. */
export const tableOfRow = (type: Type, over: object) => tableWith({ rows: [{ ...sound[type], ...over }] });

/** What `parseTable` finds. */
export function problemsIn(candidate: object): readonly Problem[] {
  const parsed = parseTable(candidate);
  return parsed.ok ? [] : parsed.error;
}

/** Messages of the schema. */
export const EMPTY = 'Too small: expected string to have >=1 characters';
export const tooLong = (max: number) => `Too big: expected string to have <=${max} characters`;
export const tooFew = (min: number) => `Too small: expected array to have >=${min} items`;
export const tooMany = (max: number) => `Too big: expected array to have <=${max} items`;
export const oneOf = (...words: string[]) =>
  `Invalid option: expected one of ${words.map((word) => `"${word}"`).join('|')}`;

/** A problem of one field, as it has to be told. */
export function problemOf(candidate: object, field: string, message: string): Problem {
  const value = shown(valueAt(candidate, field === '' ? [] : field.split('.')));
  return { code: 'table-field', field, value, message, wayOut: 'Correct this value of the table.' };
}
