import { fail, ok, type Problem, type Result } from '../../base/index.ts';
import { type StudyPlan, type StudyState, studyCell } from '../../record/index.ts';
import {
  byAverageRange,
  byVariance,
  type GaugeAnalysis,
  type GaugeStudy,
  percentOfTolerance,
  type StudyReadings,
} from './gaugeStudy.ts';
import { type RangeChart, rangeChart } from './rangeChart.ts';
import { type StudyNote, studyNotes } from './studyNotes.ts';

/** A place of the design at which no reading counts yet. */
export interface StudyGap {
  readonly person: string;
  readonly part: string;
  readonly trial: number;
}

/** What a complete gauge study gives, in mm. */
export interface StudyFigures {
  readonly plan: StudyPlan;
  /** By part, person and trial, in the order of the plan. */
  readonly readings: StudyReadings;
  readonly variance: Result<GaugeAnalysis, Problem>;
  readonly averageRange: Result<GaugeStudy, Problem>;
  readonly ranges: RangeChart;
  readonly notes: readonly StudyNote[];
}

/** Places of the design at which no reading counts, in the order of the plan; all of it unknown gives none. */
export function studyGaps(state: StudyState): readonly StudyGap[] {
  const plan = state.plan?.value;
  if (plan === undefined) return [];
  return plan.people.flatMap((person) =>
    plan.parts.flatMap(({ part }) =>
      trialsOf(plan)
        .filter((trial) => !state.readings.has(studyCell(person, part, trial)))
        .map((trial) => ({ person, part, trial })),
    ),
  );
}

function trialsOf(plan: StudyPlan): readonly number[] {
  return Array.from({ length: plan.trials }, (_, i) => i + 1);
}

/**
 * Figures of a gauge study. An incomplete one is not computed: fails with the places that are missing (none where the
 * plan itself is not here).
 */
export function studyResult(state: StudyState): Result<StudyFigures, readonly StudyGap[]> {
  const plan = state.plan?.value;
  const gaps = studyGaps(state);
  if (plan === undefined || gaps.length > 0) return fail(gaps);
  const valueMm = (person: string, part: string, trial: number) =>
    state.readings.get(studyCell(person, part, trial))?.value.valueMm ?? Number.NaN;
  const readings = plan.parts.map(({ part }) =>
    plan.people.map((person) => trialsOf(plan).map((trial) => valueMm(person, part, trial))),
  );
  const variance = byVariance(readings);
  const averageRange = byAverageRange(readings);
  const ranges = rangeChart(plan, readings);
  return ok({ plan, readings, variance, averageRange, ranges, notes: studyNotes(plan, ranges) });
}

/** One component of the variation of a study. */
export interface StudyComponent {
  readonly name: 'repeatability' | 'reproducibility' | 'people' | 'interaction' | 'gauge' | 'parts' | 'total';
  readonly sdMm: number;
  /** Variance over the total variance, percent: these add up. */
  readonly ofVariance: number;
  /** Standard deviation over the total, percent: only the squares add up. */
  readonly ofStudy: number;
  /** Six standard deviations over the tolerance, percent; null without a tolerance. */
  readonly ofTolerance: number | null;
}

/**
 * Components of variation of a study from its standard deviations, in mm. `toleranceMm` is the width between the limits.
 * People and their interaction with the parts are told apart by the analysis of variance only.
 */
export function studyComponents(
  study: GaugeStudy | GaugeAnalysis,
  toleranceMm: number | null,
): readonly StudyComponent[] {
  const apart: readonly (readonly [StudyComponent['name'], number])[] =
    'interaction' in study
      ? [
          ['people', Math.sqrt(Math.max(0, study.reproducibility ** 2 - study.interaction ** 2))],
          ['interaction', study.interaction],
        ]
      : [];
  const all: readonly (readonly [StudyComponent['name'], number])[] = [
    ['gauge', study.gauge],
    ['repeatability', study.repeatability],
    ['reproducibility', study.reproducibility],
    ...apart,
    ['parts', study.part],
    ['total', study.total],
  ];
  return all.map(([name, sdMm]) => ({
    name,
    sdMm,
    ofVariance: study.total > 0 ? 100 * (sdMm / study.total) ** 2 : 0,
    ofStudy: study.total > 0 ? (100 * sdMm) / study.total : 0,
    ofTolerance: toleranceMm === null ? null : percentOfTolerance(sdMm, toleranceMm),
  }));
}
