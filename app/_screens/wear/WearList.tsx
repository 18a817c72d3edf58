'use client';
import { useMemo, useState } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { byUrgency, quantityText, reachWords, type Wear } from '../../../lib/history/index.ts';
import { characteristicOf } from '../../../lib/readings/index.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { useWear } from '../../_client/wearing.ts';
import { Frame } from '../../_ui/Frame.tsx';
import figures from '../../_ui/figures.module.css';
import { Button, Card, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { Kept } from './WheelWear.tsx';
import classes from './wear.module.css';

/** Which part of the fleet worries most: trends of wear, the earliest limit first. */
export function WearList() {
  return (
    <Frame title="Wear" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

/** Lines shown before more are asked for. */
const SHOWN = 40;

function Body() {
  const { site } = useWorkplace();
  const answer = useWear(null);
  const [filter, setFilter] = useState<Filter>(ALL);
  const [more, setMore] = useState(1);
  const sorted = useMemo(() => [...(answer?.wears ?? [])].sort(byUrgency), [answer]);
  const chosen = useChosen(sorted, filter);
  if (answer === null) return <p role="status">Working out the trends …</p>;
  if (answer.problem !== null) return <ProblemNote problem={answer.problem} />;
  if (!answer.reached) return <Empty>This page needs a connection.</Empty>;
  const shown = chosen.slice(0, more * SHOWN);
  return (
    <div className={figures.page}>
      <div className={figures.head}>
        <p>
          {site.name}: where wear is heading, the earliest limit first. A limit counts as reached where the
          worse edge of the 95 % band of the part’s trend gets to it.
        </p>
        <Button className={classes.noPrint} onClick={() => window.print()}>
          Print
        </Button>
      </div>
      {answer.withheld === 0 ? null : <Kept count={answer.withheld} />}
      <Filters all={sorted} filter={filter} onFilter={setFilter} />
      <Card title={`${counted(chosen.length, 'trend')}`}>
        {chosen.length === 0 ? <Empty>No trend fits this choice.</Empty> : null}
        <ul className={list.list}>
          {shown.map((wear) => (
            <Line key={wear.series.key} wear={wear} />
          ))}
        </ul>
        {shown.length < chosen.length ? (
          <Button className={classes.noPrint} block onClick={() => setMore(more + 1)}>
            Show more ({chosen.length - shown.length})
          </Button>
        ) : null}
      </Card>
    </div>
  );
}

const SAYS = {
  reached: 'at its limit',
  reaches: 'wearing',
  'cannot say': 'cannot say',
} as const;
const TONES = { reached: classes.reached, reaches: classes.reaches, 'cannot say': classes.open } as const;

function Line({ wear }: { wear: Wear }) {
  const [units] = useUnits();
  const { register } = useWorkplace();
  const { place, trend, by, component, series } = wear;
  const wheel = place === null ? undefined : register.wheels.get(place.wheel);
  const { state } = trend.reach;
  return (
    <li>
      <a
        className={`${list.row} ${classes.row}`}
        href={`/wheel?id=${place?.wheel ?? series.points.at(-1)?.wheel ?? ''}&show=wear`}
      >
        <span className={`${classes.state} ${TONES[state]}`}>
          {state === 'reached' ? SAYS.reached : (by ?? SAYS[state])}
        </span>
        <span className={list.main}>
          <b>
            {wheel === undefined ? 'In no wheel' : `${wheel.machine} ${wheel.position}`}, {place?.slot ?? ''}
          </b>
          {place?.fitted === false ? ' (taken out)' : ''}: {quantityText(wear)}
          {trend.doubt === null ? '' : ', in doubt'}
          <small>
            {component?.stamp ? `${component.stamp}. ` : ''}
            {reachWords(wear, units)}
          </small>
        </span>
      </a>
    </li>
  );
}

interface Filter {
  readonly machine: string;
  readonly kind: string;
  readonly characteristic: string;
  readonly state: string;
  /** Also parts that are in no wheel now. */
  readonly out: boolean;
}
const ALL: Filter = { machine: '', kind: '', characteristic: '', state: '', out: false };
const DOUBT = 'in doubt';

function useFacets() {
  const { register } = useWorkplace();
  return (wear: Wear) => ({
    machine: register.wheels.get(wear.place?.wheel ?? '')?.machine ?? '',
    kind: wear.component?.componentKind ?? '',
    characteristic: wear.series.characteristic as string,
    state: wear.trend.reach.state as string,
  });
}

function useChosen(all: readonly Wear[], filter: Filter): readonly Wear[] {
  const facets = useFacets();
  return all.filter((wear) => {
    if (!filter.out && wear.place?.fitted !== true) return false;
    const own = facets(wear);
    return (['machine', 'kind', 'characteristic', 'state'] as const).every((key) => {
      if (key === 'state' && filter.state === DOUBT) return wear.trend.doubt !== null;
      return filter[key] === '' || own[key] === filter[key];
    });
  });
}

function Filters({
  all,
  filter,
  onFilter,
}: {
  all: readonly Wear[];
  filter: Filter;
  onFilter(filter: Filter): void;
}) {
  const facets = useFacets();
  const own = all.map(facets);
  const one = (
    key: Exclude<keyof Filter, 'out'>,
    label: string,
    words: (id: string) => string,
    more: readonly string[] = [],
  ) => {
    const values = [...new Set([...own.map((facet) => facet[key]), ...more])]
      .filter((id) => id !== '')
      .sort();
    return (
      <Field label={label}>
        <select value={filter[key]} onChange={(event) => onFilter({ ...filter, [key]: event.target.value })}>
          <option value="">All</option>
          {values.map((id) => (
            <option key={id} value={id}>
              {words(id)}
            </option>
          ))}
        </select>
      </Field>
    );
  };
  const as = (id: string) => id;
  return (
    <Card title="Which trends">
      <div className={figures.filters}>
        {one('machine', 'Machine', as)}
        {one('kind', 'Kind of part', as)}
        {one('characteristic', 'Characteristic', (id) => characteristicOf(id as never).label)}
        {one('state', 'What it says', (id) => SAYS[id as keyof typeof SAYS] ?? id, [DOUBT])}
      </div>
      <label className={figures.check}>
        <input
          type="checkbox"
          checked={filter.out}
          onChange={(event) => onFilter({ ...filter, out: event.target.checked })}
        />
        Also parts that were taken out ({all.filter(({ place }) => place?.fitted !== true).length})
      </label>
    </Card>
  );
}
