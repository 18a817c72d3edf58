'use client';
import { useCallback, useEffect, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import {
  ALL_PAIRS,
  type CallPair,
  type PairFilter,
  pairsWithin,
  type ReadingPair,
} from '../../../lib/review/index.ts';
import { Unreachable } from '../../../lib/store/device/index.ts';
import { call, Refused } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import figures from '../../_ui/figures.module.css';
import { Button, Card, Empty, ProblemNote } from '../../_ui/kit.tsx';
import classes from './agreement.module.css';
import { Calls } from './Calls.tsx';
import { Filters } from './Filters.tsx';
import { Readings } from './Readings.tsx';

/** How well people agree: readings and calls made twice, in numbers that a programme lead can use. */
export function AgreementScreen() {
  return (
    <Frame title="Agreement" back={{ href: '/', label: 'start' }} wide>
      <Body />
    </Frame>
  );
}

interface Answer {
  readonly readings: readonly ReadingPair[];
  readonly calls: readonly CallPair[];
  readonly suggestions: { readonly offered: number; readonly accepted: number };
  readonly more: boolean;
}

type Asked =
  | { readonly state: 'asking' }
  | { readonly state: 'no connection' }
  | { readonly state: 'refused'; readonly problem: Problem }
  | { readonly state: 'here'; readonly answer: Answer };

/** The pairs of a site in a period, from the server. */
function usePairs(from: string | null, to: string | null): Asked {
  const { site } = useWorkplace();
  const [asked, setAsked] = useState<Asked>({ state: 'asking' });
  const ask = useCallback(() => {
    const period = `${from === null ? '' : `&from=${from}`}${to === null ? '' : `&to=${to}`}`;
    return call<Answer>('GET', `/api/v1/agreement?site=${site.id}${period}`);
  }, [site.id, from, to]);
  useEffect(() => {
    let gone = false;
    const show = (next: Asked) => {
      if (!gone) setAsked(next);
    };
    ask().then(
      (answer) => show({ state: 'here', answer }),
      (error: unknown) => {
        if (error instanceof Refused) show({ state: 'refused', problem: error.problem });
        else if (error instanceof Unreachable) show({ state: 'no connection' });
        else throw error;
      },
    );
    return () => {
      gone = true;
    };
  }, [ask]);
  return asked;
}

function Body() {
  const { site } = useWorkplace();
  const [filter, setFilter] = useState<PairFilter>(ALL_PAIRS);
  const asked = usePairs(filter.from, filter.to);
  if (asked.state === 'refused') return <ProblemNote problem={asked.problem} />;
  if (asked.state === 'no connection') return <Empty>This page needs a connection.</Empty>;
  if (asked.state === 'asking') return <p>Fetching the pairs …</p>;
  const { answer } = asked;
  const readings = pairsWithin(answer.readings, filter);
  const calls = pairsWithin(answer.calls, filter);
  return (
    <div className={figures.page}>
      <div className={figures.head}>
        <p>
          {site.name}: what an inspector and a second person read and called on the same parts, of concluded
          inspections.
        </p>
        <Button className={classes.noPrint} onClick={() => window.print()}>
          Print
        </Button>
      </div>
      <Filters
        filter={filter}
        onFilter={setFilter}
        all={[...answer.readings, ...answer.calls]}
        more={answer.more}
        leftOut={leftOut(answer, filter)}
      />
      <Readings pairs={readings} />
      <Calls pairs={calls} />
      <Suggestions {...answer.suggestions} />
    </div>
  );
}

/** Pairs that the filter takes but for having not been measured blind. */
function leftOut({ readings, calls }: Answer, filter: PairFilter): number {
  const all = { ...filter, blindOnly: false };
  return [...pairsWithin(readings, all), ...pairsWithin(calls, all)].filter((pair) => !pair.blind).length;
}

function Suggestions({ offered, accepted }: Answer['suggestions']) {
  return (
    <Card title="Suggestions of a model">
      {offered === 0 ? (
        <Empty>
          No suggestions are on record: no model has looked at photos here yet. When one does, this says how
          many of its suggestions people accepted.
        </Empty>
      ) : (
        <p>
          {accepted} of {offered} were accepted.
        </p>
      )}
    </Card>
  );
}
