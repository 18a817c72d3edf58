import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { CLASSES, Evidence, evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, depthLimit, part, setAll, soundEvidence, tableOf, testSource } from '../support/evidence.ts';
import { keptOf, tablesOf } from './kept.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const withRules = tablesNamed(['29 CFR 1910.177', 'demonstration-quillmoor']).tables;
const site = (over: object) =>
  tableOf([depthLimit({ keep: { min: 10.5 }, ...over })], { table: 'site', title: 'Site limits' });

describe('the row that decides', () => {
  test('of two tables the stricter one is named, and what the other said stands beside it', () => {
    const tables = [...demonstration, site({ keep: { min: 12 }, repair: null })];
    const [base] = evaluate(soundEvidence(), tables).parts;
    expect(base?.decidedBy.map(({ table, row }) => [table, row])).toEqual([['site', 'depth']]);
    const depths = base?.findings.filter(
      (one) => one.about === 'limit' && one.characteristic === 'gutter depth',
    );
    expect(depths?.map((one) => (one.about === 'limit' ? one.others : null))).toEqual([
      [{ table: 'site', edition: '1', row: 'depth', class: 'scrap' }],
      [{ table: 'demonstration-quillmoor', edition: 'demonstration 2', row: 'gutter depth', class: 'keep' }],
    ]);
    expect(base?.sentence).toBe(
      "Rim base: scrap, by 1 finding. Gutter depth at 6 o'clock decides, by “Site limits”, row “depth”; " +
        '“Demonstration limits for rims of the invented maker Quillmoor Rimworks” would have kept it.',
    );
  });

  test('rows are cited from the strictest on, each once, whichever table stands first', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 8.9, 0.2);
    const [loose, strict] = [
      site({ row: 'loose' }),
      { ...site({ row: 'strict', repair: { min: 10 } }), table: 'b' },
    ];
    for (const tables of [
      [loose, strict],
      [strict, loose],
    ])
      expect(evaluate(evidence, tables).parts[0]?.decidedBy.map(({ row }) => row)).toEqual([
        'strict',
        'loose',
      ]);
  });

  test('a rule against rework is cited after the row that it made worse', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 9.8, 0.01);
    const [base] = evaluate(evidence, withRules).parts;
    expect(base?.decidedBy.map(({ row }) => row)).toEqual(['gutter depth', '(f)(9) no rework']);
    expect(base?.sentence).toMatch(/decides, by .*, row “gutter depth”, and “.*” rules rework out\.$/);
  });

  test('a row that says scrap itself stands before one that says repair and is made worse by a rule against rework', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(defect({ lengthMm: { value: 20, u: 1 } }));
    const [base] = evaluate(evidence, [...withRules].reverse()).parts;
    expect(base?.findings.find((one) => one.about === 'defect')?.rule?.row).toBe('crack in a round weld');
    expect(base?.decidedBy.map(({ row }) => row)).toEqual([
      '(e)(2) cracked, broken, bent, pitted',
      'crack in a round weld',
      '(f)(9) no rework',
    ]);
  });

  test('a crack that no rule speaks of decides without a row', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(defect());
    const ban = tableOf([{ row: 'ban', type: 'no rework', says: 'No rework.', source: testSource }]);
    const [base] = evaluate(evidence, [ban]).parts;
    expect(base?.decidedBy.map(({ row }) => row)).toEqual(['ban']);
    expect(base?.sentence).toContain("Crack, gutter weld at 5 o'clock decides; no rule on file speaks of it");
  });

  test('every row cited belongs to a finding of the worst class, and none of those is left out', () => {
    for (const kept of keptOf(2)) {
      for (const { findings, worst, decidedBy } of evaluate(Evidence.parse(kept.evidence), tablesOf(kept))
        .parts) {
        const expected = findings
          .filter((one) => one.class === worst)
          .flatMap(({ rule, noRework }) => [rule, noRework])
          .filter((one) => one !== null);
        const key = (one: { table: string; row: string }) => `${one.table} ${one.row}`;
        expect(new Set(decidedBy.map(key))).toEqual(new Set(expected.map(key)));
        expect(new Set(decidedBy.map(key)).size).toBe(decidedBy.length);
      }
    }
  });

  test('patches of corrosion are compared on their own: one does not answer for the other', () => {
    const evidence = soundEvidence();
    const patch = { defect: 'corrosion', zone: 'centre band', clock: 1, method: 'visual', note: '' } as const;
    for (const [id, value] of [
      ['a', 50000],
      ['b', 10],
    ] as const)
      part(evidence, 'rim base').defects.push({ ...patch, id, lengthMm: null, areaMm2: { value, u: 0 } });
    const base = must(evaluate(evidence, demonstration).parts[0], 'rim base');
    expect(base.findings.filter((one) => one.about !== 'age' && one.others !== undefined)).toEqual([]);
    expect(CLASSES.indexOf(must(base.worst ?? undefined, 'worst'))).toBe(2);
  });
});
