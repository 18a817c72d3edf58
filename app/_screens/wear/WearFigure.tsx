'use client';
import { useCallback, useMemo } from 'react';
import { basisSentences, quantityText, reachSentence, type Wear } from '../../../lib/history/index.ts';
import { sourceText } from '../../../lib/rules/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { useUnits } from '../../_client/units.ts';
import { Chart, type Plot } from '../../_plots/Chart.tsx';
import { lengthScale } from '../../_plots/scale.ts';
import type { TableData } from '../../_plots/table.ts';
import { wearChart } from '../../_plots/wearChart.ts';
import { inspectionAddress, pictureOf } from './picture.ts';
import classes from './wear.module.css';

/** The trend of one quantity: its picture, what it says, its readings as links, and its table. */
export function WearFigure({ wear }: { wear: Wear }) {
  const [units] = useUnits();
  const scale = useMemo(() => lengthScale(units), [units]);
  const picture = useMemo(() => pictureOf(wear, scale), [wear, scale]);
  const draw = useCallback((plot: Plot, widthPx: number) => wearChart(plot, widthPx, picture), [picture]);
  const { series, ends } = wear;
  return (
    <Chart title={quantityText(wear)} draw={draw} table={tableOf(wear, scale)}>
      <p>
        <b>{reachSentence(wear, units)}</b>
      </p>
      {basisSentences(wear, units).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {ends.map(({ rule, worse }) => (
        <p key={`${rule.table} ${rule.row} ${worse}`} className={classes.source}>
          Limit: {sourceText(rule.source)}, row {rule.row}
          {rule.source.kind === 'demonstration' ? ': not for real rims' : ''}.
        </p>
      ))}
      <ul className={classes.readings} aria-label="Readings">
        {series.points.map((point) => (
          <li key={point.inspection}>
            <a href={inspectionAddress(point)}>
              {point.on}: {showNumber(scale.of(point.valueMm), scale.decimals - 1)} {scale.unit}
              {point.healed ? ', went back' : ''}
              {point.settled ? '' : ', not reviewed'}
            </a>
          </li>
        ))}
      </ul>
    </Chart>
  );
}

function tableOf({ series, trend }: Wear, scale: ReturnType<typeof lengthScale>): TableData {
  const length = (label: string) => ({ label: `${label}, ${scale.unit}`, decimals: scale.decimals });
  const isHours = series.clock === 'hours';
  return {
    caption: `Governing value of every inspection, ${scale.unit}`,
    columns: [
      { label: 'Inspected' },
      ...(isHours
        ? [
            { label: 'Hours on duty', decimals: 0 },
            { label: 'u of hours', decimals: 0 },
          ]
        : []),
      length('Value'),
      length('u'),
      { label: 'Place' },
      { label: 'Readings', decimals: 0 },
      { label: 'Line' },
    ],
    rows: series.points.map((point) => [
      point.on,
      ...(isHours ? [point.x, point.xU] : []),
      scale.of(point.valueMm),
      scale.of(point.uMm),
      point.clock === null ? '' : `${point.clock} o’clock`,
      point.readings,
      `${trend.counted.includes(point.inspection) ? 'rests on it' : 'left out'}${point.healed ? ', went back' : ''}`,
    ]),
    file: `wear-${series.characteristic.replaceAll(' ', '-')}`,
  };
}
