import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { ENGINE, type Evidence, evaluate } from '../../lib/rules/index.ts';
import { tableHash, tablesNamed } from '../../lib/tolerances/index.ts';
import {
  defect,
  depthLimit,
  part,
  reading,
  setAll,
  soundEvidence,
  tableOf,
  testSource,
} from '../support/evidence.ts';

const demonstration = tablesNamed(['demonstration-quillmoor']).tables;
const TITLE = '“Demonstration limits for rims of the invented maker Quillmoor Rimworks”';
const depth = (row: string, over: object = {}) => depthLimit({ row, keep: { min: 10.5 }, ...over });
const site = (rows: object[], over: object = {}) =>
  tableOf(rows, { table: 'site', title: 'Site limits', ...over });
const sentenceOf = (evidence: Evidence, tables: Parameters<typeof evaluate>[1], slot = 'rim base') =>
  must(
    evaluate(evidence, tables).parts.find((one) => one.slot === slot),
    slot,
  ).sentence;

/** How the answer for a part reads is our own specification, no source. */
describe('the sentence of a part', () => {
  test('that is kept', () => {
    expect(sentenceOf(soundEvidence(), demonstration, 'lock ring')).toBe(
      'Lock ring: keep. All 2 findings are within keep and nothing is missing.',
    );
    expect(sentenceOf(soundEvidence(), demonstration, 'bead seat band')).toBe(
      'Bead seat band: keep. All 1 finding is within keep and nothing is missing.',
    );
  });

  test('that is held, with the worst finding so far or none', () => {
    const evidence = soundEvidence();
    part(evidence, 'lock ring').looks.pop();
    expect(sentenceOf(evidence, demonstration, 'lock ring')).toBe(
      'Lock ring: hold. 1 thing is missing; worst finding so far: keep.',
    );
    expect(sentenceOf(soundEvidence(), [], 'lock ring')).toBe(
      'Lock ring: hold. 2 things are missing; worst finding so far: none.',
    );
  });

  test('of which a limit decides, with the place', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10, 0);
    expect(sentenceOf(evidence, demonstration)).toBe(
      `Rim base: repair, by 1 finding. Gutter depth at 3 o'clock decides, by ${TITLE}, row “gutter depth”.`,
    );
  });

  test('of which several findings give the class: the strictest decides', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 8, 0);
    part(evidence, 'rim base').defects.push(defect({ zone: 'centre band', clock: null }));
    expect(sentenceOf(evidence, demonstration)).toBe(
      `Rim base: scrap, by 2 findings. Gutter depth at 3 o'clock decides, by ${TITLE}, row “gutter depth”.`,
    );
    setAll(evidence, 'rim base', 'gutter depth', 11.6, 0.05);
    expect(sentenceOf(evidence, demonstration)).toBe(
      `Rim base: scrap, by 1 finding. Crack, centre band decides, by ${TITLE}, row “crack elsewhere”.`,
    );
  });

  test('of which the age decides', () => {
    const evidence = soundEvidence();
    Object.assign(part(evidence, 'lock ring'), { made: { from: '2000-01-01', to: '2000-12-31' } });
    const age = { row: 'old', type: 'age', upToYears: 10, beyond: 'scrap', unknown: 'hold', says: 'x' };
    expect(sentenceOf(evidence, [site([{ ...age, source: testSource }])], 'lock ring')).toBe(
      'Lock ring: scrap, by 1 finding. Its age or hours on duty decides, by “Site limits”, row “old”.',
    );
  });

  test('with what other rows would have said of the same, where it is milder, each once', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10, 0);
    const strict = depth('strict', { keep: { min: 12 }, repair: null });
    const other = depth('loose', { keep: { min: 8 }, repair: { min: 7 } });
    const said = (...rows: object[]) => sentenceOf(evidence, [site([strict, ...rows])]);
    expect(said(other, depth('middle'))).toBe(
      "Rim base: scrap, by 1 finding. Gutter depth at 3 o'clock decides, by “Site limits”, row “strict”; “Site limits”, row “loose”, would have kept it; “Site limits”, row “middle”, would have left it at repair.",
    );
    expect(said(depth('also strict', { keep: { min: 11 }, repair: null }))).toBe(
      "Rim base: scrap, by 2 findings. Gutter depth at 3 o'clock decides, by “Site limits”, row “strict”.",
    );
    const elsewhere = site([other, { ...other, row: 'loose too' }], { table: 'two', title: 'Two' });
    expect(sentenceOf(evidence, [site([strict]), elsewhere])).toMatch(
      /row “strict”; “Two” would have kept it\.$/,
    );
  });
});

describe('the order of strictness', () => {
  const decided = (rows: object[], valueMm: number, uMm: number) => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [reading({ valueMm, uMm })];
    return must(evaluate(evidence, [site(rows)]).parts[0], 'part').decidedBy.map((one) => one.row);
  };

  test('of one class: the likelier to be beyond repair first, then beyond keep', () => {
    const rows = [
      depth('a', { keep: { min: 10.8 }, repair: { min: 9 } }),
      depth('b', { keep: { min: 10.9 }, repair: { min: 9 } }),
      depth('c', { keep: { min: 10.7 }, repair: { min: 9.5 } }),
    ];
    expect(decided(rows, 10.5, 0.4)).toEqual(['c', 'b', 'a']);
    expect(decided([...rows].reverse(), 10.5, 0.4)).toEqual(['c', 'b', 'a']);
  });

  test('alike in all: in the order of the table; a row of the same name in another edition is cited too', () => {
    expect(decided([depth('x'), depth('y')], 9.5, 0)).toEqual(['x', 'y']);
    const evidence = soundEvidence();
    part(evidence, 'rim base').readings = [reading({ valueMm: 9.5, uMm: 0 })];
    const editions = [site([depth('x')]), site([depth('x')], { edition: '2' })];
    expect(
      evaluate(evidence, editions).parts[0]?.decidedBy.map(({ edition, row }) => [edition, row]),
    ).toEqual([
      ['1', 'x'],
      ['2', 'x'],
    ]);
  });
});

describe('the verdict', () => {
  test('names the engine, its inputs and each table with the hash of its content', () => {
    const evidence = soundEvidence();
    const table = site([depth('x', { source: { title: 'Handbook', kind: 'published' } })]);
    const verdict = evaluate(evidence, [table, ...demonstration]);
    expect(verdict.engine).toBe(ENGINE);
    expect(ENGINE).toMatch(/^rimbook rules \d+$/);
    expect(verdict.inputs).toBe(evidence);
    expect(verdict.tables).toEqual([
      { table: 'site', edition: '1', title: 'Site limits', hash: tableHash(table), demonstration: false },
      expect.objectContaining({ table: 'demonstration-quillmoor', demonstration: true }),
    ]);
  });

  test('a part rests on demonstration where a row or a rule against rework of that kind does', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 10, 0);
    const published = { title: 'Handbook', kind: 'published' };
    const under = (kind: object, ban: object) =>
      evaluate(evidence, [
        site([depth('x', { source: kind }), { row: 'ban', type: 'no rework', says: 'x', source: ban }]),
      ]).parts[0]?.demonstration;
    expect(under(published, published)).toBe(false);
    expect(under(testSource, published)).toBe(true);
    expect(under(published, testSource)).toBe(true);
  });

  test('a slot that the evidence leaves out is a part of which nothing is known', () => {
    const evidence = soundEvidence();
    evidence.parts = evidence.parts.filter((one) => one.slot !== 'lock ring');
    const ring = evaluate(evidence, demonstration).parts.find((one) => one.slot === 'lock ring');
    expect(ring).toMatchObject({ component: null, result: 'hold', worst: null, findings: [], decidedBy: [] });
    expect(ring?.missing.map((one) => one.text)).toEqual([
      'Nobody has said which lock ring is fitted.',
      'ring ends: not looked at yet.',
      'ring body: not looked at yet.',
      'ring seat face: not looked at yet.',
      'ring ends: no photo yet.',
      'ring body: no photo yet.',
      'Lock-ring end gap, free: not measured yet.',
      'Lock-ring end gap, fitted: not measured yet.',
    ]);
  });

  test('tables are those in effect on the day of the verdict', () => {
    const evidence = soundEvidence();
    const rows = [depth('x', { keep: { min: 30 }, repair: null })];
    const from = (effectiveFrom: string) =>
      evaluate(evidence, [...demonstration, site(rows, { effectiveFrom })]);
    expect(from('2026-11-02').parts[0]?.result).toBe('scrap');
    expect(from('2026-11-03').parts[0]?.result).toBe('keep');
  });

  test('a size that is not understood matches no row with a size, and such a row holds the part', () => {
    const rows = [depth('x', { keep: { min: 30 }, repair: null, diameterCodes: { min: 1, max: 99 } })];
    const of = (designation: string) => {
      const evidence = soundEvidence();
      Object.assign(evidence.wheel, { designation });
      return must(evaluate(evidence, [...demonstration, site(rows)]).parts[0], 'rim base');
    };
    expect(of('25-22.00/3.0')).toMatchObject({ result: 'scrap', missing: [] });
    expect(of('unreadable')).toMatchObject({ result: 'hold', worst: 'keep' });
    expect(of('unreadable').sentence).toBe('Rim base: hold. 1 thing is missing; worst finding so far: keep.');
    expect(of('unreadable').missing.map((one) => one.text)).toEqual([
      'The size designation "unreadable" is not understood, and rows of “Site limits” depend on it. Write it as stamped, such as 25-22.00/3.0.',
    ]);
  });
});
