import { describe, expect, it } from 'vitest';
import { type Entry, foldStudy, kinds, type StudyPlan } from '../../lib/record/index.ts';
import {
  deviationKnownTo,
  type StudyFigures,
  studyComponents,
  studyGaps,
  studyResult,
} from '../../lib/review/agreement/index.ts';
import { caseOf } from '../support/cases.ts';
import { entry, thing } from '../support/entries.ts';

const STUDY = thing(300);

/** A study as entries: `values` by part, person and trial, mm. */
function studyOf(values: readonly (readonly (readonly number[])[])[], over: Partial<StudyPlan> = {}) {
  const people = (values[0] ?? []).map((_, j) => `person-${j}`);
  const parts = values.map((_, i) => ({ part: thing(310 + i), label: `P${i + 1}` }));
  const plan = {
    name: 'Published study',
    characteristic: 'gutter depth' as const,
    state: null,
    instrument: thing(301),
    parts,
    people,
    trials: values[0]?.[0]?.length ?? 0,
    tolerance: null,
    seed: 1,
    ...over,
  };
  const entries: Entry[] = [entry(kinds.studyOpened, STUDY, plan, { ms: 0, author: 'lead' })];
  let running = 0;
  values.forEach((part, i) => {
    part.forEach((own, j) => {
      own.forEach((valueMm, k) => {
        running += 1;
        const body = {
          reading: thing(1000 + running),
          part: parts[i]?.part ?? '',
          trial: k + 1,
          typed: `${valueMm}`,
          defaultUnit: 'mm' as const,
          valueMm,
          confirmed: true,
          overlap: false,
        };
        entries.push(
          entry(kinds.studyReadingEntered, STUDY, body, { ms: running * 1000, author: `person-${j}` }),
        );
      });
    });
  });
  return entries;
}

function figures(entries: readonly Entry[]): StudyFigures {
  const result = studyResult(foldStudy(entries));
  if (!result.ok) throw new Error(`${result.error.length} readings are missing`);
  return result.value;
}

const published = (): number[][][] =>
  (caseOf('B-01').inputs.data as number[][]).map((row) => [0, 3, 6].map((k) => row.slice(k, k + 3)));

describe('the result of a gauge study in the record', () => {
  it('published cases B-02 and B-04: average and range, and analysis of variance', () => {
    const { averageRange, variance } = figures(studyOf(published()));
    const { expected: byRange } = caseOf('B-02');
    const { expected: pooled } = caseOf('B-04');
    if (!averageRange.ok || !variance.ok) throw new Error('refused');
    const ranged = studyComponents(averageRange.value, null);
    const one = (list: typeof ranged, name: string) => list.find((each) => each.name === name);
    expect(one(ranged, 'gauge')?.sdMm).toBeCloseTo(byRange.GRR, 3);
    expect(one(ranged, 'gauge')?.ofStudy).toBeCloseTo(byRange.pct_GRR, 1);
    expect(one(ranged, 'parts')?.ofStudy).toBeCloseTo(byRange.pct_PV, 1);
    expect(averageRange.value.distinct).toBe(byRange.ndc);
    const analysed = studyComponents(variance.value, null);
    expect(
      ['repeatability', 'reproducibility', 'gauge', 'parts'].map((name) => one(analysed, name)?.ofVariance),
    ).toEqual(pooled.pct_contribution.map((value: number) => expect.closeTo(value, 1)));
    expect(
      ['repeatability', 'reproducibility', 'gauge', 'parts'].map((name) => one(analysed, name)?.ofStudy),
    ).toEqual(pooled.pct_study.map((value: number) => expect.closeTo(value, 1)));
    expect(one(analysed, 'interaction')?.sdMm).toBe(0);
    expect(one(ranged, 'interaction')).toBeUndefined();
    expect(analysed.every((each) => each.ofTolerance === null)).toBe(true);
  });

  it('published case B-01: mean range, over all and by person; the limit of a range is 2.574 times it', () => {
    const { expected } = caseOf('B-01');
    const { ranges } = figures(studyOf(published()));
    expect(ranges.meanMm).toBeCloseTo(expected.Rbar, 3);
    expected.Rbar_op.forEach((value: number, j: number) => {
      const own = ranges.points.filter((point) => point.person === `person-${j}`);
      expect(own.reduce((sum, point) => sum + point.rangeMm, 0) / own.length).toBeCloseTo(value, 3);
    });
    expect(ranges.upperMm / ranges.meanMm).toBeCloseTo(2.574, 9);
  });

  it('published case B-09: six standard deviations over the tolerance', () => {
    const { inputs, expected } = caseOf('B-09');
    const { variance } = figures(studyOf(published()));
    if (!variance.ok) throw new Error('refused');
    const scaled = { ...variance.value, gauge: inputs.GRR };
    const gauge = studyComponents(scaled, inputs.tolerance).find((each) => each.name === 'gauge');
    expect(gauge?.ofTolerance).toBeCloseTo(expected.ratio_6sd_percent, 1);
  });

  it('is not computed while readings are missing, and says which', () => {
    const entries = studyOf(published());
    const state = foldStudy(entries.slice(0, -1));
    expect(studyResult(state)).toEqual({ ok: false, error: studyGaps(state) });
    expect(studyGaps(state)).toEqual([{ person: 'person-2', part: thing(319), trial: 3 }]);
    expect(studyResult(foldStudy(entries.slice(1)))).toEqual({ ok: false, error: [] });
  });

  it('does not depend on the order in which readings arrived', () => {
    const entries = studyOf(published());
    expect(figures([...entries].reverse())).toEqual(figures(entries));
  });
});

describe('what a gauge study cannot say', () => {
  const codes = (values: number[][][]) => figures(studyOf(values)).notes.map((note) => note.code);
  const always = ['repeatability known to', 'people known to'];

  it('says when there are fewer parts or people than usual', () => {
    expect(codes(published())).toEqual(expect.not.arrayContaining(['few parts', 'few people']));
    expect(codes(published().slice(0, 9))).toContain('few parts');
    expect(codes(published().map((part) => part.slice(0, 2)))).toContain('few people');
  });

  it('says how well a standard deviation is known: JCGM 100 table E.1, 9 degrees 24 %, 19 degrees 16 %', () => {
    expect(deviationKnownTo(9)).toBeCloseTo(24, 0);
    expect(deviationKnownTo(19)).toBeCloseTo(16, 0);
    expect(codes(published())).toEqual(expect.arrayContaining(always));
  });

  it('says when the step of the instrument hides the scatter, from more than half', () => {
    const coarse = (alike: number) =>
      [0, 1].map((i) => [0, 1].map((j) => [10 + i, 10 + i + (2 * i + j < alike ? 0 : 0.5)]));
    expect(codes(coarse(2))).not.toContain('coarse step');
    expect(codes(coarse(3))).toContain('coarse step');
  });

  it('names the person and the part of a range beyond its limit', () => {
    const values = published().map((part, i) => part.map((own, j) => (i + j === 0 ? [0, 9, 0] : own)));
    const note = figures(studyOf(values)).notes.find((one) => one.code === 'range beyond');
    expect(note?.person).toBe('person-0');
    expect(note?.text).toContain('P1');
  });
});
