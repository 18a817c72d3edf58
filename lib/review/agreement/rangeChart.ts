import { mean } from '../../base/index.ts';
import type { StudyPlan } from '../../record/index.ts';
import type { StudyReadings } from './gaugeStudy.ts';

/** Ranges of the trials of every person and part, with the limits within which chance alone would keep them, mm. */
export interface RangeChart {
  readonly points: readonly { readonly person: string; readonly part: string; readonly rangeMm: number }[];
  readonly meanMm: number;
  readonly lowerMm: number;
  readonly upperMm: number;
}

/**
 * Upper limit of a range over the mean range by number of trials (control chart constants D4, ISO 7870-2:2013, from
 * memory). The lower limit, D3, is 0 for fewer than seven trials.
 */
const D4: Readonly<Record<number, number>> = { 2: 3.267, 3: 2.574, 4: 2.282, 5: 2.114 };

/** Range chart of the readings of a study, by part, person and trial in the order of its plan, mm. */
export function rangeChart(plan: StudyPlan, readings: StudyReadings): RangeChart {
  const points = plan.people.flatMap((person, j) =>
    plan.parts.map(({ part }, i) => {
      const own = readings[i]?.[j] ?? [];
      return { person, part, rangeMm: Math.max(...own) - Math.min(...own) };
    }),
  );
  const meanMm = mean(points.map((one) => one.rangeMm));
  return { points, meanMm, lowerMm: 0, upperMm: meanMm * (D4[plan.trials] ?? Number.NaN) };
}
