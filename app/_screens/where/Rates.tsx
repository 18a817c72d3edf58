'use client';
import { useCallback, useMemo, useState } from 'react';
import { type PlacedVisit, ratesBy } from '../../../lib/history/index.ts';
import { Chart, type Plot } from '../../_plots/Chart.tsx';
import { ratesChart } from '../../_plots/ratesChart.ts';
import { Card, Choice, Empty } from '../../_ui/kit.tsx';
import { ratesTable } from './figures.ts';

const GROUPS = ['Machine', 'Position', 'Maker'] as const;
type GroupName = (typeof GROUPS)[number];

const GROUP_OF: Readonly<Record<GroupName, Parameters<typeof ratesBy>[1]>> = {
  Machine: ({ machine }) => machine || 'on no machine',
  Position: ({ position }) => position || 'no position',
  Maker: (_, { maker }) => maker || 'maker unknown',
};

/** How often things are found by machine, position or maker, with how sure that is. */
export function Rates({ visits }: { visits: readonly PlacedVisit[] }) {
  const [group, setGroup] = useState<GroupName>('Machine');
  const rates = useMemo(() => ratesBy(visits, GROUP_OF[group]), [visits, group]);
  const draw = useCallback((plot: Plot, widthPx: number) => ratesChart(plot, widthPx, rates), [rates]);
  return (
    <Card title="How often, and on what">
      <Choice legend="By" options={GROUPS} value={group} onChoose={setGroup} />
      {rates.length === 0 ? (
        <Empty>No parts were looked at in this choice.</Empty>
      ) : (
        <Chart
          title={`Finds per part looked at, by ${group.toLowerCase()}`}
          draw={draw}
          table={ratesTable(rates, group)}
        >
          <p>
            Dots are rates, bars their exact 95 % intervals: where bars overlap widely, the difference may be
            chance. Open dots rest on few looks.
          </p>
        </Chart>
      )}
    </Card>
  );
}
