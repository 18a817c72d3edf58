import { beforeAll, describe, expect, test } from 'vitest';
import { Evidence, evaluate, type Finding, type PartVerdict, sentenceOf } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, depthLimit, part, setAll, soundEvidence, tableOf, testSource } from '../support/evidence.ts';
import { keptOf, tablesOf } from './kept.ts';

let all: PartVerdict[] = [];
let findings: Finding[] = [];
beforeAll(() => {
  all = keptOf(2).flatMap((kept) => [...evaluate(Evidence.parse(kept.evidence), tablesOf(kept)).parts]);
  findings = all.flatMap((one) => [...one.findings]);
});
const LENGTH = /\d (?:(?:mm|in)\b|cm²)/;

describe('a sentence is built again from the fields of its finding', () => {
  test('in metric it is the stored sentence, for findings of every sort', () => {
    expect(findings.length).toBeGreaterThan(200);
    expect(new Set(findings.map((one) => one.about))).toEqual(new Set(['limit', 'defect', 'age']));
    for (const finding of findings) expect(sentenceOf(finding, 'metric')).toBe(finding.sentence);
  });

  test('the stored sentence itself is not looked at', () => {
    for (const finding of findings)
      expect(sentenceOf({ ...finding, sentence: 'lost' }, 'metric')).toBe(finding.sentence);
  });

  test('in imperial no metric length is left', () => {
    for (const finding of findings) {
      const sentence = sentenceOf(finding, 'imperial');
      expect(sentence).not.toMatch(/\d (mm|cm²)/);
      if (LENGTH.test(finding.sentence)) expect(sentence).toMatch(/\d in²?[ .,;)\]]/);
      else expect(sentence).toBe(finding.sentence);
    }
  });

  test('a limit, a patch and a crack in inches: 1 in = 25.4 mm exactly', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 12.7, 0.0635);
    part(evidence, 'rim base').defects.push(
      defect({ id: 'a', defect: 'corrosion', zone: 'centre band', areaMm2: { value: 6451.6, u: 64.516 } }),
      defect({ id: 'b', lengthMm: { value: 25.4, u: 1.27 } }),
    );
    const said = evaluate(evidence, tablesNamed(['demonstration-quillmoor']).tables)
      .parts.find((one) => one.slot === 'rim base')
      ?.findings.map((one) => sentenceOf(one, 'imperial'))
      .join('\n');
    expect(said).toContain("Gutter depth at 3 o'clock is 0.5000 in ± 0.0050 in");
    expect(said).toContain('Keep: at least 0.4134 in; repair: at least 0.3543 in');
    expect(said).toContain('is 10.00 in² ± 0.20 in²');
    expect(said).toContain('1.000 in ± 0.100 in long (k = 2)');
    expect(said).toContain('Repair is open up to 2.362 in');
  });

  test('a finding of an earlier version without these fields keeps its sentence', () => {
    const old = keptOf(2).flatMap((kept) =>
      (kept.answer as { parts: PartVerdict[] }).parts.flatMap((one) => [...one.findings]),
    );
    const bare = old.filter((one) => one.about !== 'limit');
    expect(bare.length).toBeGreaterThan(5);
    for (const finding of bare) expect(sentenceOf(finding, 'imperial')).toBe(finding.sentence);
  });

  test('no text of something missing and no sentence of a part carries a length', () => {
    const texts = all.flatMap((one) => [one.sentence, ...one.missing.map(({ text }) => text)]);
    expect(texts.length).toBeGreaterThan(300);
    for (const text of texts) expect(text).not.toMatch(LENGTH);
  });
});

describe('a repair that is not on offer', () => {
  test('a better measurement is worth the walk only where it could change what the part is', () => {
    const rows = (needs: string) => [
      depthLimit({ row: 'g', keep: { min: 10.5 }, repairNeeds: needs }),
      { row: 'ban', type: 'no rework', says: 'No rework.', source: testSource },
    ];
    const sentence = (needs: string, value: number) => {
      const evidence = soundEvidence();
      setAll(evidence, 'rim base', 'gutter depth', value, 0.1);
      const [finding] = evaluate(evidence, [tableOf(rows(needs))]).parts[0]?.findings ?? [];
      return finding?.sentence;
    };
    expect(sentence('upkeep', 9.05)).toContain('it would be repair: a better measurement is worth the walk.');
    expect(sentence('rework', 9.05)).toContain('it would be repair, for which rework is not on offer.');
    expect(sentence('rework', 10.55)).toContain('it would be keep: a better measurement is worth the walk.');
  });
});
