import { describe, expect, test } from 'vitest';
import { decidedBy, decidingText, strictestFirst, withOthers } from '../../lib/rules/deciding.ts';
import type { Finding } from '../../lib/rules/index.ts';
import { tableOf, testSource } from '../support/evidence.ts';
import { ageFinding, cited, defectFinding, limitFinding, place } from './findings.ts';

const rows = (findings: readonly Finding[]) => findings.map((one) => one.rule?.row);
const limit = (row: string, beyondRepair: number, beyondKeep = 1, over: object = {}) =>
  limitFinding({ class: 'scrap', beyondRepair, beyondKeep, rule: cited(row), ...over });
const crack = (row: string, over: object = {}) => defectFinding({ rule: cited(row), ...over });
const age = (row: string, beyond: number | null) => ageFinding({ rule: cited(row), beyond });

/** Which finding counts as the strictest is our own specification, no source. */
describe('the strictest finding', () => {
  test('by class, then by the class of the row itself, then by how likely it is to be beyond', () => {
    const findings = [
      limit('kept', 0, 0, { class: 'keep' }),
      limit('repair', 0.9, 1, { class: 'repair' }),
      limit('scrap by a rule against rework', 1, 1, { noRework: cited('ban') }),
      limit('scrap, hardly', 0.1),
      limit('scrap, likely', 0.6),
      limit('scrap, as likely, surer beyond keep', 0.6, 1),
    ];
    const order = [
      'scrap, likely',
      'scrap, as likely, surer beyond keep',
      'scrap, hardly',
      'scrap by a rule against rework',
      'repair',
      'kept',
    ];
    expect(rows(strictestFirst(findings))).toEqual(order);
    expect(rows(strictestFirst([limit('a', 0.6, 0.7), limit('b', 0.6, 0.8)]))).toEqual(['b', 'a']);
  });

  test('a defect is there for certain; an age is as likely as it is said, and certain where it is unknown', () => {
    const findings = [limit('limit', 0.9), age('age', 0.95), age('unknown', null), crack('crack')];
    expect(rows(strictestFirst(findings))).toEqual(['unknown', 'crack', 'age', 'limit']);
    expect(rows(strictestFirst([age('age', 0.5), limit('limit', 0.9)]))).toEqual(['limit', 'age']);
    expect(rows(strictestFirst([limit('limit', 0.9), crack('crack')]))).toEqual(['crack', 'limit']);
    expect(rows(strictestFirst([crack('a'), crack('b')]))).toEqual(['a', 'b']);
  });
});

describe('the rows that decided', () => {
  test('are those of the worst class alone, each once, a rule against rework after the row it changed', () => {
    const banned = limit('depth', 0.2, 1, { noRework: cited('ban') });
    const findings = [
      limit('kept', 0, 0, { class: 'keep' }),
      banned,
      crack('crack'),
      crack('crack', { defectId: 'e' }),
      crack('no row', { rule: null, noRework: cited('ban') }),
    ];
    expect(decidedBy(findings).map((one) => one.row)).toEqual(['crack', 'ban', 'depth']);
    expect(decidedBy([])).toEqual([]);
  });

  test('are told apart by table, edition and row', () => {
    const other = [
      crack('a'),
      crack('a', { rule: cited('a', { edition: '2' }) }),
      crack('a', { rule: cited('a', { table: 'u' }) }),
    ];
    expect(decidedBy(other)).toHaveLength(3);
  });
});

describe('what other rows said of the same', () => {
  const others = (...findings: Finding[]) =>
    withOthers(findings).map((one) => (one.about === 'age' ? 'never' : one.others?.map((it) => it.row)));

  test('of one quantity, whatever readings each row takes', () => {
    const elsewhere = { positions: [place({ readings: ['p'] })] };
    expect(others(limit('a', 1), limit('b', 1, 1, elsewhere), limit('c', 1))).toEqual([
      ['b', 'c'],
      ['a', 'c'],
      ['a', 'b'],
    ]);
    expect(withOthers([limit('a', 1), limit('b', 0, 0, { class: 'keep' })])[0]).toMatchObject({
      others: [{ table: 't', edition: '1', row: 'b', class: 'keep' }],
    });
  });

  test('and not of another characteristic, zone, state or patch', () => {
    for (const over of [{ characteristic: 'pitting depth' }, { zone: 'gutter lip' }, { state: 'free' }])
      expect(others(limit('a', 1), limit('b', 1, 1, over))).toEqual([undefined, undefined]);
    const patch = (row: string, id: string) =>
      limit(row, 1, 1, { characteristic: 'corrosion area', positions: [place({ readings: [id] })] });
    expect(others(patch('a', 'p'), patch('b', 'q'), patch('c', 'p'))).toEqual([['c'], undefined, ['a']]);
  });

  test('of one defect, where there is a row', () => {
    expect(others(crack('a'), crack('b'), crack('c', { defectId: 'e' }))).toEqual([['b'], ['a'], undefined]);
    expect(others(crack('a'), crack('b', { rule: null }))).toEqual([undefined, ['a']]);
  });

  test('ages are never set against each other', () => {
    const ages = [age('a', 1), age('b', 1)];
    expect(withOthers(ages)).toEqual(ages);
  });
});

describe('which finding decides, in words', () => {
  const table = tableOf([{ row: 'x', type: 'no rework', says: 'x', source: testSource }], {
    table: 't',
    title: 'Site limits',
  });
  const other = (row: string, over: object = {}) => ({
    table: 't',
    edition: '1',
    row,
    class: 'keep' as const,
    ...over,
  });

  test.each<[string, Finding, string]>([
    ['a limit', limit('depth', 1), "Gutter depth at 6 o'clock decides, by “Site limits”, row “depth”."],
    ['a defect', crack('crack'), "Crack, gutter weld at 5 o'clock decides, by “Site limits”, row “crack”."],
    ['an age', age('age', 1), 'Its age or hours on duty decides, by “Site limits”, row “age”.'],
    [
      'a table that is not at hand, by its name',
      crack('crack', { rule: cited('crack', { table: 'u' }) }),
      "Crack, gutter weld at 5 o'clock decides, by “u”, row “crack”.",
    ],
    [
      'another edition of it too',
      crack('crack', { rule: cited('crack', { edition: '2' }) }),
      "Crack, gutter weld at 5 o'clock decides, by “t”, row “crack”.",
    ],
    [
      'a rule against rework, and milder rows of this table and others',
      limit('depth', 1, 1, {
        noRework: cited('ban', { table: 'u' }),
        others: [
          other('loose'),
          other('middle', { table: 'u', class: 'repair' }),
          other('also middle', { table: 'u', class: 'repair' }),
          other('strict', { class: 'scrap' }),
        ],
      }),
      "Gutter depth at 6 o'clock decides, by “Site limits”, row “depth”, and “u” rules rework out; “Site limits”, row “loose”, would have kept it; “u” would have left it at repair.",
    ],
    [
      'no row, with a milder one',
      crack('crack', { rule: null, others: [other('loose')] }),
      "Crack, gutter weld at 5 o'clock decides; no rule on file speaks of it; “Site limits” would have kept it.",
    ],
  ])('%s', (_name, finding, text) => {
    expect(decidingText(finding, [table])).toBe(text);
  });
});
