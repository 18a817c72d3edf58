'use client';
import { Fragment, type ReactNode, useEffect, useState } from 'react';
import {
  byUrgency,
  looksAt,
  quantityText,
  reachSentence,
  reachWords,
  type Wear,
} from '../../../lib/history/index.ts';
import type { InspectionState, WheelState } from '../../../lib/record/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useUnits } from '../../_client/units.ts';
import { useWear, useWearContext } from '../../_client/wearing.ts';
import figures from '../../_ui/figures.module.css';
import { Button, Card, Caution, Empty, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { WearFigure } from './WearFigure.tsx';
import classes from './wear.module.css';

/** Where the parts of a wheel are wearing to: a card for each part, a picture for each quantity. */
export function WheelWear({
  wheel,
  inspections,
}: {
  wheel: WheelState;
  inspections: readonly InspectionState[];
}) {
  const place = usePlace();
  const answer = useWear(wheel.id, inspections);
  const parts = byComponent(answer?.wears ?? []);
  return (
    <>
      <div className={figures.head}>
        <Button className={classes.noPrint} onClick={() => place.go({ show: null })}>
          The wheel’s book
        </Button>
        <Button className={classes.noPrint} onClick={() => window.print()}>
          Print
        </Button>
      </div>
      {answer === null ? <p role="status">Working out the trends …</p> : null}
      {answer?.problem == null ? null : <ProblemNote problem={answer.problem} />}
      {answer?.reached === false ? (
        <Caution kind="note">
          No connection: only readings on this device are shown, and other wheels say nothing of how fast such
          parts wear.
        </Caution>
      ) : null}
      {answer === null || answer.withheld === 0 ? null : <Kept count={answer.withheld} />}
      {answer !== null && parts.length === 0 ? (
        <Card title="Wear">
          <Empty>Nothing was measured on the parts of this wheel in a submitted inspection yet.</Empty>
        </Card>
      ) : null}
      {parts.length === 0 ? null : <Summary wears={parts.flat()} wheel={wheel} />}
      <OneByOne>
        {parts.map((wears) => (
          <PartWear key={wears[0]?.series.component} wheel={wheel} wears={wears} />
        ))}
      </OneByOne>
    </>
  );
}

/** That figures of inspections are kept from a reviewer who has yet to measure them. */
export function Kept({ count }: { count: number }) {
  return (
    <Caution kind="note">
      {count === 1 ? 'One inspection is' : `${count} inspections are`} left out: you have to measure{' '}
      {count === 1 ? 'it' : 'them'} before you see figures.
    </Caution>
  );
}

/** Parts in the wheel first, then those that left it. */
function byComponent(wears: readonly Wear[]): readonly (readonly Wear[])[] {
  const groups = new Map<string, Wear[]>();
  for (const wear of wears) {
    const known = groups.get(wear.series.component);
    if (known === undefined) groups.set(wear.series.component, [wear]);
    else known.push(wear);
  }
  const rank = ([first]: readonly Wear[]) =>
    `${first?.place?.fitted === true ? 0 : 1}${first?.place?.slot ?? ''}`;
  return [...groups.values()].sort((a, b) => (rank(a) < rank(b) ? -1 : 1));
}

const isIn = ({ place }: Pick<Wear, 'place'>, wheel: WheelState): boolean =>
  place?.fitted === true && place.wheel === wheel.id;

/** What the parts in the wheel say, the soonest first, each leading to its picture. */
function Summary({ wears, wheel }: { wears: readonly Wear[]; wheel: WheelState }) {
  const [units] = useUnits();
  const here = wears.filter((wear) => isIn(wear, wheel)).sort(byUrgency);
  return (
    <Card title={`Wear of ${wheel.tag}, ${wheel.machine} ${wheel.position}`}>
      {here.length === 0 ? <Empty>Nothing was measured yet on the parts that are in it now.</Empty> : null}
      <ul className={list.list}>
        {here.map((wear) => (
          <li key={wear.series.key}>
            <a className={list.row} href={`#${anchorOf(wear)}`}>
              <span className={list.main}>
                <b>{wear.place?.slot}</b>, {quantityText(wear)}
                {wear.trend.doubt === null ? '' : ', in doubt'}
                <small>{reachWords(wear, units)}</small>
              </span>
              <span className={list.aside}>
                {wear.trend.reach.state === 'reached' ? 'at its limit' : (wear.by ?? '')}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Card>
  );
}

function anchorOf({ series }: Pick<Wear, 'series'>): string {
  return series.key.replaceAll(/[^a-zA-Z0-9]+/g, '-');
}

/** Shows children one after the other, so that the page answers in between. */
function OneByOne({ children }: { children: readonly ReactNode[] }) {
  const [shown, setShown] = useState(1);
  useEffect(() => {
    if (shown >= children.length) return;
    const timer = setTimeout(() => setShown(shown + 1));
    return () => clearTimeout(timer);
  }, [shown, children.length]);
  return children.slice(0, shown);
}

function PartWear({ wheel, wears }: { wheel: WheelState; wears: readonly Wear[] }) {
  const [units] = useUnits();
  const context = useWearContext();
  const [first] = wears;
  const { component, place } = first ?? {};
  const isHere = first !== undefined && isIn(first, wheel);
  const looks = !isHere
    ? []
    : looksAt(wears, context, (wear) => `${quantityText(wear)}: ${reachSentence(wear, units)}`);
  const [next] = looks;
  return (
    <Card title={`${place?.slot ?? 'A part'}${isHere ? '' : ', not in this wheel now'}`}>
      <p>
        {component == null
          ? 'Not described.'
          : `${component.maker || 'maker unknown'} ${component.series}, stamp ${component.stamp || 'unreadable'}.`}
      </p>
      {!isHere ? (
        <p>It is in no place here now, so that nothing runs toward a limit.</p>
      ) : next === undefined ? (
        <p>Nothing on file says when it has to be looked at again.</p>
      ) : (
        <>
          <p>
            <b>Look at it again {next.by === null ? '' : `by ${next.by}`}</b>
            {next.by !== null && next.by <= context.on ? ' (due)' : ''}, the earliest of:
          </p>
          <ul className={classes.looks}>
            {looks.map(({ by, sentence }) => (
              <li key={sentence}>
                {by ?? 'no day'}: {sentence}
              </li>
            ))}
          </ul>
        </>
      )}
      <OneByOne>
        {wears.map((wear) => (
          <Fragment key={wear.series.key}>
            <div id={anchorOf(wear)} />
            <WearFigure wear={wear} />
          </Fragment>
        ))}
      </OneByOne>
    </Card>
  );
}
