'use client';
import { useCallback, useMemo } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { characteristicOf } from '../../../lib/readings/index.ts';
import { errorOfPair, type ReadingAgreement, readingAgreement } from '../../../lib/review/agreement/index.ts';
import { type PairGroup, pairGroups, type ReadingPair } from '../../../lib/review/index.ts';
import { NAME_UNKNOWN, usePeople } from '../../_client/people.ts';
import { useUnits } from '../../_client/units.ts';
import { differencesChart, errorsChart } from '../../_plots/agreementCharts.ts';
import { Chart, type Plot } from '../../_plots/Chart.tsx';
import { type LengthScale, lengthScale } from '../../_plots/scale.ts';
import { Card, Empty } from '../../_ui/kit.tsx';
import classes from './agreement.module.css';
import { FigureList } from './FigureList.tsx';
import { readingFigures } from './figures.ts';

/** Readings made twice, one section for each quantity. */
export function Readings({ pairs }: { pairs: readonly ReadingPair[] }) {
  const [units] = useUnits();
  const scale = useMemo(() => lengthScale(units), [units]);
  const groups = pairGroups(pairs);
  if (groups.length === 0) {
    return (
      <Card title="Readings">
        <Empty>
          No readings made by two people fit this choice. Pairs come from concluded inspections that a
          reviewer has measured again.
        </Empty>
      </Card>
    );
  }
  return groups.map((group) => (
    <OneQuantity key={`${group.characteristic} ${group.state ?? ''}`} group={group} scale={scale} />
  ));
}

interface Props {
  readonly group: PairGroup;
  readonly scale: LengthScale;
}

function OneQuantity({ group, scale }: Props) {
  const { pairs, characteristic, state } = group;
  const agreement = useMemo(() => readingAgreement(pairs), [pairs]);
  const label = `${characteristicOf(characteristic).label}${state === null ? '' : `, ring ${state}`}`;
  return (
    <Card title={`${label} (${counted(agreement.n, 'pair')})`}>
      {agreement.limits.ok ? null : (
        <Empty>
          {agreement.limits.error.message}. {agreement.limits.error.wayOut}
        </Empty>
      )}
      <FigureList figures={readingFigures(agreement, scale)} file={`agreement-${characteristic}`} />
      <ul className={classes.notes}>
        {agreement.notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      <Differences group={group} scale={scale} agreement={agreement} />
      {agreement.stated.counted === 0 ? null : <Errors group={group} />}
    </Card>
  );
}

/** Pairs as points in the unit shown, with names. */
function usePoints({ group: { pairs }, scale }: Props) {
  const people = usePeople();
  return useMemo(
    () =>
      pairs.map(({ first, second, inspector, reviewer, at, clock }) => ({
        mean: scale.of((first.valueMm + second.valueMm) / 2),
        difference: scale.of(first.valueMm - second.valueMm),
        first: scale.of(first.valueMm),
        second: scale.of(second.valueMm),
        inspector: people.get(inspector) ?? NAME_UNKNOWN,
        reviewer: people.get(reviewer) ?? NAME_UNKNOWN,
        at: at.slice(0, 10),
        clock: clock === null ? '' : `${clock} o’clock`,
      })),
    [pairs, people, scale],
  );
}

function Differences({ group, scale, agreement }: Props & { agreement: ReadingAgreement }) {
  const points = usePoints({ group, scale });
  const inspectors = useMemo(() => [...new Set(points.map((one) => one.inspector))].sort(), [points]);
  const { limits } = agreement;
  const lines = useMemo(() => {
    if (!limits.ok) return null;
    const { bias, biasInterval, limits: band, lowerInterval, upperInterval } = limits.value;
    const interval = ([low, high]: readonly [number, number]) => [scale.of(low), scale.of(high)] as const;
    return {
      bias: scale.of(bias),
      lower: scale.of(band[0]),
      upper: scale.of(band[1]),
      intervals: [biasInterval, lowerInterval, upperInterval].map(interval),
    };
  }, [limits, scale]);
  const draw = useCallback(
    (plot: Plot, widthPx: number) => differencesChart(plot, widthPx, points, inspectors, lines, scale.unit),
    [points, inspectors, lines, scale],
  );
  const figure = (label: string) => ({ label: `${label}, ${scale.unit}`, decimals: scale.decimals });
  return (
    <Chart
      title="Differences against the size"
      draw={draw}
      table={{
        caption: `Every pair, ${scale.unit}`,
        columns: [
          { label: 'Concluded' },
          { label: 'Place' },
          { label: 'Inspector' },
          { label: 'Second person' },
          figure('First'),
          figure('Second'),
          figure('Difference'),
        ],
        rows: points.map((one) => [
          one.at,
          one.clock,
          one.inspector,
          one.reviewer,
          one.first,
          one.second,
          one.difference,
        ]),
        file: `agreement-${group.characteristic}-pairs`,
      }}
    >
      <p>
        Each sign is one place read twice.{' '}
        {lines === null
          ? 'There are too few pairs to draw a bias and its limits.'
          : 'The solid line is the bias, about 95 % of differences lie between the dashed limits; the thick strokes at the right edge say how well these lines are known. A slope or a funnel means that the difference depends on the size.'}
      </p>
    </Chart>
  );
}

function Errors({ group: { pairs, characteristic } }: Pick<Props, 'group'>) {
  const points = useMemo(
    () =>
      pairs.flatMap((pair) => {
        const error = errorOfPair(pair);
        return error === null ? [] : [{ at: new Date(pair.at), error }];
      }),
    [pairs],
  );
  const draw = useCallback((plot: Plot, widthPx: number) => errorsChart(plot, widthPx, points), [points]);
  return (
    <Chart
      title="Differences against the stated uncertainty"
      draw={draw}
      table={{
        caption: 'Normalised errors; up to 1 in size the two agree within what they state',
        columns: [{ label: 'Concluded' }, { label: 'Normalised error', decimals: 2 }, { label: 'Agree' }],
        rows: points.map((one) => [
          one.at.toISOString().slice(0, 10),
          one.error,
          Math.abs(one.error) <= 1 ? 'yes' : 'no',
        ]),
        file: `agreement-${characteristic}-errors`,
      }}
    >
      <p>
        The difference divided by the expanded uncertainty of both: diamonds beyond the dashed lines mean that
        somebody read worse than the instrument allows, or that the uncertainty is stated too small.
      </p>
    </Chart>
  );
}
