import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { foldInspection, inflationStages, kinds, nextStage } from '../../lib/record/index.ts';
import { mayAppend } from '../../lib/review/index.ts';
import { entry, INSPECTION, WHEEL } from '../support/entries.ts';

const opened = entry(kinds.inspectionOpened, INSPECTION, { wheel: WHEEL, reason: 'assembly' }, { ms: 0 });
const done = (stage: (typeof inflationStages)[number]['id'], ms: number, typed = '') =>
  entry(kinds.inflationStageDone, INSPECTION, { stage, typed, kpa: typed === '' ? null : 20 }, { ms });
const letOut = (ms: number) => entry(kinds.inflationBrokenOff, INSPECTION, { reason: 'ring uneven' }, { ms });

describe('inflation in stages', () => {
  test('goes one stage after the other and ends at pressure', () => {
    const so = new Set<(typeof inflationStages)[number]['id']>();
    for (const stage of inflationStages) {
      expect(nextStage(so)).toBe(stage);
      so.add(stage.id);
    }
    expect(nextStage(so)).toBeNull();
  });

  test('begins anew when the air was let out, with the reason kept', () => {
    const state = foldInspection([
      opened,
      done('restraint ready', 10),
      done('first air', 20, '20 kPa'),
      letOut(30),
    ]);
    expect([...state.inflation.keys()]).toEqual([]);
    expect(state.brokenOff?.value.reason).toBe('ring uneven');
    const again = foldInspection([opened, letOut(30), done('first air', 20), done('restraint ready', 40)]);
    expect([...again.inflation.keys()]).toEqual(['restraint ready']);
  });

  test('folds alike in any order', () => {
    const entries = [
      opened,
      done('restraint ready', 10),
      letOut(20),
      done('restraint ready', 30),
      done('first air', 40),
    ];
    const folded = foldInspection(entries);
    fc.assert(
      fc.property(fc.shuffledSubarray(entries, { minLength: entries.length }), (shuffled) => {
        expect(foldInspection(shuffled)).toEqual(folded);
      }),
    );
  });

  test('is no evidence: a submitted verdict does not go stale by it, and whoever does it does not review', () => {
    const submitted = entry(
      kinds.inspectionSubmitted,
      INSPECTION,
      { covers: [opened.id], verdict: {} },
      { ms: 50, author: 'other' },
    );
    const state = foldInspection([opened, submitted, done('restraint ready', 60)]);
    expect([state.status, state.late]).toEqual(['submitted', []]);
    expect(foldInspection([done('restraint ready', 60)]).inspectors).toEqual(['inspector-1']);
  });

  test('is written down by an inspector', () => {
    const act = done('restraint ready', 10);
    expect(mayAppend(act, ['inspector']).ok).toBe(true);
    expect(mayAppend(act, ['reviewer', 'lead'])).toMatchObject({ ok: false });
  });

  test('names at every stage what can go wrong and where that is from', () => {
    for (const { caution, source } of inflationStages) {
      expect(caution.length).toBeGreaterThan(20);
      expect(source.length).toBeGreaterThan(10);
    }
  });
});
