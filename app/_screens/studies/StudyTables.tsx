'use client';
import {
  type GaugeAnalysis,
  type StudyComponent,
  type StudyFigures,
  studyComponents,
} from '../../../lib/review/agreement/index.ts';
import { DataTable } from '../../_plots/DataTable.tsx';
import type { LengthScale } from '../../_plots/scale.ts';
import type { TableData } from '../../_plots/table.ts';
import { Empty } from '../../_ui/kit.tsx';
import classes from './studies.module.css';

/** Words for the components of variation. */
export const componentWord: Readonly<Record<StudyComponent['name'], string>> = {
  gauge: 'Measuring, all of it',
  repeatability: 'Repeatability: one person again',
  reproducibility: 'Reproducibility: between people',
  people: 'of it, people',
  interaction: 'of it, people with parts',
  parts: 'Between parts',
  total: 'Total',
};

interface Props {
  readonly figures: StudyFigures;
  readonly scale: LengthScale;
}

/** The two ways of computing side by side; one that does not apply says why. */
export function ComponentTables({ figures, scale }: Props) {
  const { variance, averageRange } = figures;
  return (
    <div className={classes.sideBySide}>
      <section>
        <h3>Analysis of variance</h3>
        {variance.ok ? (
          <>
            <DataTable data={componentTable(variance.value, figures, scale, 'variance')} />
            <DataTable data={varianceTable(variance.value, scale)} />
          </>
        ) : (
          <Empty>
            {variance.error.message}. {variance.error.wayOut}
          </Empty>
        )}
      </section>
      <section>
        <h3>Average and range method</h3>
        {averageRange.ok ? (
          <DataTable data={componentTable(averageRange.value, figures, scale, 'average-range')} />
        ) : (
          <Empty>
            {averageRange.error.message}. {averageRange.error.wayOut}
          </Empty>
        )}
      </section>
    </div>
  );
}

function componentTable(
  study: Parameters<typeof studyComponents>[0],
  { plan }: StudyFigures,
  scale: LengthScale,
  way: string,
): TableData {
  const toleranceMm = plan.tolerance?.valueMm ?? null;
  return {
    caption:
      'Standard deviations and their shares; shares of the variance add up, the others only in squares',
    columns: [
      { label: 'Component' },
      { label: `Standard deviation, ${scale.unit}`, decimals: scale.decimals + 1 },
      { label: '% of variance', decimals: 1 },
      { label: '% of study', decimals: 1 },
      ...(toleranceMm === null ? [] : [{ label: '% of tolerance', decimals: 1 }]),
    ],
    rows: studyComponents(study, toleranceMm).map((one) => [
      componentWord[one.name],
      scale.of(one.sdMm),
      one.ofVariance,
      one.ofStudy,
      ...(toleranceMm === null ? [] : [one.ofTolerance]),
    ]),
    file: `study-${way}`,
  };
}

function varianceTable(study: GaugeAnalysis, scale: LengthScale): TableData {
  const { parts, people, trials, meanSquares: squares, interactionF, interactionP, pooled } = study;
  const row = (name: string, degrees: number, square: number, f: number | null, p: number | null) => [
    name,
    degrees,
    scale.square(square),
    f,
    p,
  ];
  return {
    caption: pooled
      ? 'Mean squares; the interaction may well be chance (p above 0.25) and is counted with the repeatability'
      : 'Mean squares; the interaction is more than chance would give (p up to 0.25) and is kept apart',
    columns: [
      { label: 'Source' },
      { label: 'Degrees of freedom', decimals: 0 },
      { label: `Mean square, ${scale.unit}²`, decimals: 2 * scale.decimals },
      { label: 'F', decimals: 2 },
      { label: 'p', decimals: 3 },
    ],
    rows: [
      row('Parts', parts - 1, squares.parts, null, null),
      row('People', people - 1, squares.people, null, null),
      row('People with parts', (parts - 1) * (people - 1), squares.interaction, interactionF, interactionP),
      row('Repeatability', parts * people * (trials - 1), squares.repeatability, null, null),
    ],
    file: 'study-mean-squares',
  };
}
