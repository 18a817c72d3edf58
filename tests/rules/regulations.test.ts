import { describe, expect, test } from 'vitest';
import { type GateQuestionId, gateQuestions, gateState } from '../../lib/record/index.ts';
import { evaluate } from '../../lib/rules/index.ts';
import { tablesNamed } from '../../lib/tolerances/index.ts';
import { defect, part, setAll, soundEvidence } from '../support/evidence.ts';

const rules = tablesNamed(['29 CFR 1910.177', 'demonstration-quillmoor']).tables;
const without = tablesNamed(['demonstration-quillmoor']).tables;
const metal = ['rim base', 'gutter side flange', 'bead seat band', 'lock ring'] as const;
const zoneOf = {
  'rim base': 'centre band',
  'gutter side flange': 'flange lip',
  'bead seat band': 'bead seat',
  'lock ring': 'ring body',
} as const;

describe('29 CFR 1910.177(e)(2): bent, pitted from corrosion, broken or cracked parts are not used', () => {
  // Federal wording from memory; wording seen in the state mirror WAC 296-307-53011(2).
  const rows = metal.flatMap((slot) =>
    (['bent', 'pitting', 'broken', 'crack'] as const).map((defect) => [slot, defect] as const),
  );
  test.each(rows)('%s, %s: unserviceable, citing the paragraph', (slot, found) => {
    const evidence = soundEvidence();
    part(evidence, slot).defects.push(defect({ defect: found, zone: zoneOf[slot], clock: 1 }));
    const verdict = evaluate(evidence, rules).parts.find((one) => one.slot === slot);
    expect(verdict?.result).toBe('scrap');
    const cited = verdict?.findings.find((one) => one.rule?.source.section === '(e)(2)');
    expect(cited?.class).toBe('scrap');
    expect(cited?.sentence).toContain('tagged unserviceable');
  });
});

describe('29 CFR 1910.177(f)(9): damaged parts are not reworked, welded, brazed or heated', () => {
  // Wording seen in a vehicle maker's reprint of the paragraph.
  test('a repair that needs rework is not on offer while the rule set is on', () => {
    const evidence = soundEvidence();
    setAll(evidence, 'rim base', 'gutter depth', 9.8, 0.01);
    expect(evaluate(evidence, without).parts[0]?.result).toBe('repair');
    const verdict = evaluate(evidence, rules).parts[0];
    expect(verdict?.result).toBe('scrap');
    expect(verdict?.findings.find((one) => one.class === 'scrap')).toMatchObject({
      noRework: { row: '(f)(9) no rework' },
    });
  });

  test('cleaning and coating is no rework, so that repair stays open', () => {
    const evidence = soundEvidence();
    part(evidence, 'rim base').defects.push(
      defect({ defect: 'corrosion', zone: 'centre band', areaMm2: { value: 9000, u: 10 } }),
    );
    expect(evaluate(evidence, rules).parts[0]?.result).toBe('repair');
  });
});

describe('29 CFR 1910.177(f)(2) and 30 CFR 56.14104(a): air out and valve core out first', () => {
  // (f)(2)(ii) seen in a vehicle maker's reprint; 56.14104(a): "the valve core shall be partially removed to allow for
  // gradual deflation and then removed" (eCFR).
  const allYes = new Map<GateQuestionId, 'yes' | 'no'>(gateQuestions.map((question) => [question.id, 'yes']));

  test('hands-on work opens only when every question is answered yes', () => {
    expect(gateState(allYes, true)).toEqual({ allows: 'hands-on', open: [] });
    for (const question of gateQuestions) {
      const without = new Map(allYes);
      without.delete(question.id);
      expect(gateState(without, true)).toEqual({ allows: 'walk-around', open: [question.id] });
      expect(gateState(new Map(allYes).set(question.id, 'no'), true).allows).toBe('walk-around');
    }
  });

  test('the other tyre is asked about only where there is one', () => {
    const single = new Map(allYes);
    single.delete('dual considered');
    expect(gateState(single, false).allows).toBe('hands-on');
    expect(gateState(single, true).allows).toBe('walk-around');
  });

  test('while the core is in, nothing can be kept, whatever was measured', () => {
    for (const question of ['tyre deflated', 'valve core out'] as const) {
      const evidence = soundEvidence();
      evidence.gateOpen = [question];
      const verdict = evaluate(evidence, without);
      expect(verdict.parts.map((one) => one.result)).not.toContain('keep');
      expect(verdict.assembly.fit).toBe(false);
    }
  });

  test('the questions name the paragraphs they rest on', () => {
    const source = (id: GateQuestionId) => gateQuestions.find((question) => question.id === id)?.source;
    expect(source('valve core out')).toContain('30 CFR 56.14104(a)');
    expect(source('tyre deflated')).toContain('56.14104(a)');
  });
});
