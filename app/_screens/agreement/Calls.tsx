'use client';
import { useCallback, useMemo } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { CALLS_IN_ORDER, callAgreement } from '../../../lib/review/agreement/index.ts';
import type { CallPair } from '../../../lib/review/index.ts';
import { callsChart } from '../../_plots/agreementCharts.ts';
import { Chart, type Plot } from '../../_plots/Chart.tsx';
import { Card, Empty } from '../../_ui/kit.tsx';
import classes from './agreement.module.css';
import { FigureList } from './FigureList.tsx';
import { callFigures } from './figures.ts';

/** Calls made twice: how often they agree, beyond chance. */
export function Calls({ pairs }: { pairs: readonly CallPair[] }) {
  const agreement = useMemo(() => callAgreement(pairs), [pairs]);
  const cells = useMemo(
    () =>
      CALLS_IN_ORDER.flatMap((first, i) =>
        CALLS_IN_ORDER.map((second, j) => ({ first, second, count: agreement.table[i]?.[j] ?? 0 })),
      ),
    [agreement],
  );
  const draw = useCallback(
    (plot: Plot, widthPx: number) => callsChart(plot, widthPx, cells, CALLS_IN_ORDER),
    [cells],
  );
  if (agreement.n === 0) {
    return (
      <Card title="Calls">
        <Empty>No calls made by two people fit this choice.</Empty>
      </Card>
    );
  }
  return (
    <Card title={`Calls (${counted(agreement.n, 'pair')})`}>
      <FigureList figures={callFigures(agreement)} file="agreement-calls" />
      <ul className={classes.notes}>
        {agreement.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      <Chart
        title="First call against second call"
        draw={draw}
        table={{
          caption: 'Counts; rows the inspector’s call, columns the second person’s',
          columns: [{ label: 'Inspector' }, ...CALLS_IN_ORDER.map((label) => ({ label, decimals: 0 }))],
          rows: CALLS_IN_ORDER.map((first, i) => [first, ...(agreement.table[i] ?? [])]),
          file: 'agreement-calls-counts',
        }}
      >
        <p>
          Counts in the framed diagonal are calls that were the same; below it the second person was milder,
          above it more severe.
        </p>
      </Chart>
    </Card>
  );
}
