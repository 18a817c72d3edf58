'use client';
import { useCallback, useMemo } from 'react';
import { studyComponents } from '../../../lib/review/agreement/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { Chart, type Plot } from '../../_plots/Chart.tsx';
import { type ComponentBar, componentsChart, rangesChart, readingsChart } from '../../_plots/studyCharts.ts';
import type { FiguresProps } from './StudyResults.tsx';
import { componentWord } from './StudyTables.tsx';

const WAYS = { variance: 'variance', averageRange: 'range' } as const;

export function Components({ figures }: Pick<FiguresProps, 'figures'>) {
  const bars = useMemo(() => {
    const of = (way: keyof typeof WAYS): ComponentBar[] => {
      const study = figures[way];
      if (!study.ok) return [];
      return studyComponents(study.value, null)
        .filter(({ name }) => ['gauge', 'repeatability', 'reproducibility', 'parts'].includes(name))
        .map(({ name, ofStudy }) => ({ component: componentWord[name], way: WAYS[way], percent: ofStudy }));
    };
    return [...of('variance'), ...of('averageRange')];
  }, [figures]);
  const draw = useCallback((plot: Plot, widthPx: number) => componentsChart(plot, widthPx, bars), [bars]);
  if (bars.length === 0) return null;
  return (
    <Chart
      title="Where the variation comes from"
      draw={draw}
      table={{
        caption: 'Shares of the study’s variation, percent of its standard deviation',
        columns: [{ label: 'Component' }, { label: 'Method' }, { label: 'Share, %', decimals: 1 }],
        rows: bars.map((one) => [one.component, one.way, one.percent]),
        file: 'study-components',
      }}
    >
      <p>
        Long bars for measuring and short ones for the parts mean that the differences seen are mostly the
        measuring. Filled: analysis of variance; outlined: average and range method.
      </p>
    </Chart>
  );
}

export function Readings({ figures: { plan, readings }, names, scale }: FiguresProps) {
  const points = useMemo(
    () =>
      plan.parts.flatMap(({ label }, i) =>
        names.flatMap((person, j) =>
          (readings[i]?.[j] ?? []).map((valueMm, k) => ({
            person,
            part: label,
            trial: k + 1,
            value: scale.of(valueMm),
          })),
        ),
      ),
    [plan, names, readings, scale],
  );
  const labels = useMemo(() => plan.parts.map((one) => one.label), [plan]);
  const draw = useCallback(
    (plot: Plot, widthPx: number) => readingsChart(plot, widthPx, points, names, labels, scale.unit),
    [points, names, labels, scale],
  );
  return (
    <Chart
      title="Readings by part and person"
      draw={draw}
      table={{
        caption: `Every reading, ${scale.unit}`,
        columns: [
          { label: 'Part' },
          { label: 'Person' },
          { label: 'Trial', decimals: 0 },
          { label: `Reading, ${scale.unit}`, decimals: scale.decimals },
        ],
        rows: points.map((one) => [one.part, one.person, one.trial, one.value]),
        file: 'study-readings',
      }}
    >
      <p>
        Each ring is one reading, the line joins the means. Lines of the same shape mean that people see the
        parts alike; a line that lies higher belongs to a person who reads high.
      </p>
    </Chart>
  );
}

export function Ranges({ figures: { plan, ranges }, names, scale }: FiguresProps) {
  const labels = useMemo(() => plan.parts.map((one) => one.label), [plan]);
  const points = useMemo(
    () =>
      ranges.points.map((one) => ({
        person: names[plan.people.indexOf(one.person)] ?? one.person,
        part: plan.parts.find(({ part }) => part === one.part)?.label ?? '',
        range: scale.of(one.rangeMm),
      })),
    [plan, ranges, names, scale],
  );
  const draw = useCallback(
    (plot: Plot, widthPx: number) => {
      const limits = { mean: scale.of(ranges.meanMm), upper: scale.of(ranges.upperMm) };
      return rangesChart(plot, widthPx, points, limits, names, labels, scale.unit);
    },
    [points, ranges, names, labels, scale],
  );
  return (
    <Chart
      title="Range of the trials by part and person"
      draw={draw}
      table={{
        caption: `Largest minus smallest reading of one part by one person, ${scale.unit}`,
        columns: [
          { label: 'Person' },
          { label: 'Part' },
          { label: `Range, ${scale.unit}`, decimals: scale.decimals },
        ],
        rows: points.map((one) => [one.person, one.part, one.range]),
        file: 'study-ranges',
      }}
    >
      <p>
        How far one person’s own readings of a part are apart; the solid line is the mean range,{' '}
        {showNumber(scale.of(ranges.meanMm), scale.decimals)} {scale.unit}. Chance alone keeps ranges below
        the dashed limit, {showNumber(scale.of(ranges.upperMm), scale.decimals)} {scale.unit} (control chart
        constants, ISO 7870-2, from memory); a diamond is beyond it.
      </p>
    </Chart>
  );
}
