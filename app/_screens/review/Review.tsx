'use client';
import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { type Entry, foldInspection, type InspectionState } from '../../../lib/record/index.ts';
import { hasMeasured, mayReview, toMeasure, type Withheld } from '../../../lib/review/index.ts';
import type { Verdict as VerdictData } from '../../../lib/rules/index.ts';
import { type InspectionView, useInspection, useSecond } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Caution, DemonstrationLimits, Empty, ProblemNote, When } from '../../_ui/kit.tsx';
import { PhotoScreen } from '../inspect/PhotoScreen.tsx';
import { problemOf } from '../SignIn.tsx';
import { Conditions } from './Conditions.tsx';
import { ComparePhoto } from './compare/ComparePhoto.tsx';
import { type Asking, PartCompare } from './compare/PartCompare.tsx';
import { type Comparison, useComparison } from './compare/useComparison.ts';
import { HoldNote } from './HoldNote.tsx';
import { MeasureDesk } from './measure/MeasureDesk.tsx';
import classes from './review.module.css';
import { Concluded } from './settle/Concluded.tsx';
import { AskForm, Questions } from './settle/Questions.tsx';
import { Settle } from './settle/Settle.tsx';
import { type KeyAct, useKeys } from './useKeys.ts';

/** The second look: one's own measurement first, then both side by side, then the conclusion. */
export function Review() {
  return (
    <Frame title="Review" back={{ href: '/queue', label: 'the queue' }} wide>
      <HoldNote />
      <Body />
    </Frame>
  );
}

interface Second {
  readonly mine: InspectionView;
  readonly entries: readonly Entry[];
  readonly withheld: Withheld | null;
  fetch(): Promise<void>;
}

function Body() {
  const place = usePlace();
  const { mine, ...rest } = useSecond(place.get('id'));
  if (mine.state === 'loading') return <p>Fetching the inspection …</p>;
  if (mine.state === 'missing') {
    return (
      <Card title="This inspection is not here">
        {mine.problem === null ? null : <ProblemNote problem={mine.problem} />}
        <Empty>
          It cannot be fetched now. <a href="/queue">Back to the queue.</a>
        </Empty>
      </Card>
    );
  }
  return <Stage mine={mine.value} {...rest} />;
}

/** Where the review stands: still to be measured, handed in and not answered yet, or to be compared. */
function Stage(second: Second) {
  const { mine, entries, withheld, fetch } = second;
  const place = usePlace();
  const { me, has } = useWorkplace();
  const whole = useMemo(() => foldInspection(entries), [entries]);
  const asked = withheld?.why === 'measure first' ? withheld : toMeasure(whole);
  const own = whole.seconds.get(me.person.id);
  const handedIn = own?.handedIn.some(({ value }) => value.submission === asked.submission?.entry) === true;
  const photo = place.get('photo');
  const pending = whole.conclusion === null || whole.status === 'third person';
  const before = [...whole.earlierConclusions, ...(whole.conclusion === null ? [] : [whole.conclusion])];
  const done = whole.status === 'third person' && before.some(({ author }) => author === me.person.id);
  const measuring =
    has('reviewer') &&
    asked.submission !== null &&
    !whole.inspectors.includes(me.person.id) &&
    !handedIn &&
    withheld?.status !== 'sent back' &&
    pending &&
    !done;
  if (measuring && photo !== null) return <PhotoScreen view={mine} photo={photo} key={photo} />;
  return (
    <>
      <Head mine={mine} whole={whole} asked={asked} />
      {measuring ? (
        <>
          {hasMeasured(whole, me.person.id) ? (
            <Caution kind="note">
              You have seen the inspector’s figures, so this measurement is not a blind one.
            </Caution>
          ) : null}
          <MeasureDesk view={mine} asked={asked} blind={!hasMeasured(whole, me.person.id)} onDone={fetch} />
        </>
      ) : withheld?.why === 'measure first' ? (
        <Waiting
          handedIn={handedIn}
          sentBack={withheld.status === 'sent back'}
          submitted={asked.submission !== null}
          onFetch={fetch}
        />
      ) : (
        <Whole id={mine.state.id} second={second} />
      )}
    </>
  );
}

function Waiting({
  handedIn,
  sentBack,
  submitted,
  onFetch,
}: {
  handedIn: boolean;
  sentBack: boolean;
  submitted: boolean;
  onFetch(): Promise<void>;
}) {
  const { exchange, connection, waiting } = useWorkplace();
  const [wrong, setWrong] = useState<Problem | null>(null);
  const look = useCallback(async () => {
    await exchange();
    try {
      await onFetch();
      setWrong(null);
    } catch (error) {
      setWrong(problemOf(error));
    }
  }, [exchange, onFetch]);
  const arrived = handedIn && connection === 'connected' && waiting === 0;
  useEffect(() => {
    if (arrived) void look();
  }, [arrived, look]);
  return (
    <Card title={handedIn ? 'Handed in' : 'Nothing to measure yet'}>
      <p>
        {handedIn
          ? 'Your measurement is on this device and on its way. The inspector’s figures come as soon as the server has it.'
          : sentBack
            ? 'It was sent back. It comes to the queue again when the inspector has submitted it anew.'
            : submitted
              ? 'You are not a reviewer at this site.'
              : 'The inspection has not been submitted. Until then its figures are kept from people who may review it.'}
      </p>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button onClick={() => void look()}>Look again</Button>
    </Card>
  );
}

function Head({
  mine: { wheel, state },
  whole,
  asked,
}: {
  mine: InspectionView;
  whole: InspectionState;
  asked: ReturnType<typeof toMeasure>;
}) {
  const people = usePeople();
  const author = asked.submission?.author ?? whole.opened?.author ?? '';
  return (
    <div className={classes.head}>
      <div>
        <b className={classes.tag}>{wheel.tag}</b> {wheel.machine} {wheel.position}, {wheel.designation},{' '}
        {wheel.construction}
      </div>
      <div>
        {state.reason}; inspected by {people.get(author) ?? 'someone'}
        {asked.submission === null ? ', not submitted' : ', submitted '}
        {asked.submission === null ? null : <When at={asked.submission.at} />}
      </div>
      <Conditions state={state} readings={asked.readings} />
    </div>
  );
}

/** Everything about the inspection that a person may see: both measurements where there are two. */
function Whole({ id, second }: { id: string; second: Second }) {
  const { me } = useWorkplace();
  const loaded = useInspection(id);
  if (loaded.state !== 'ready') return <p>Taking sizes from the photos …</p>;
  const { state } = loaded.value;
  const seconds = [...state.seconds].filter(([, { handedIn }]) => handedIn.length > 0);
  const mine = seconds.find(([person]) => person === me.person.id)?.[0];
  const reviewer = mine ?? state.conclusion?.author ?? seconds.at(-1)?.[0] ?? null;
  return <Compared view={loaded.value} second={second} reviewer={reviewer} key={reviewer ?? ''} />;
}

function Compared({
  view,
  second: { entries, fetch },
  reviewer,
}: {
  view: InspectionView;
  second: Second;
  reviewer: string | null;
}) {
  const comparison = useComparison(view, entries, reviewer ?? '');
  if (view.state.submission === null) return <Empty>The inspection has not been submitted.</Empty>;
  if (comparison === null) return <p>Taking sizes from the photos …</p>;
  return <CompareDesk view={view} comparison={comparison} reviewer={reviewer} onDone={fetch} />;
}

function CompareDesk({
  view,
  comparison,
  reviewer,
  onDone,
}: {
  view: InspectionView;
  comparison: Comparison;
  reviewer: string | null;
  onDone(): Promise<void>;
}) {
  const place = usePlace();
  const { me, has } = useWorkplace();
  const [asking, setAsking] = useState<Asking | null>(null);
  const { state } = view;
  const mine = reviewer === me.person.id && has('reviewer') && mayReview(state, me.person.id).ok;
  const pending = state.conclusion === null || state.status === 'third person';
  const concluded = [...state.earlierConclusions, ...(state.conclusion === null ? [] : [state.conclusion])];
  const open =
    mine &&
    pending &&
    !(state.status === 'third person' && concluded.some(({ author }) => author === me.person.id));
  const acts: KeyAct[] = [
    {
      key: 's',
      words: 'to the signature',
      act: () => document.querySelector<HTMLElement>('[data-sign]')?.focus(),
    },
  ];
  useKeys(acts);
  const photo = place.get('photo');
  const ask = open ? setAsking : null;
  if (photo !== null)
    return <ComparePhoto photo={photo} first={state} own={comparison.own} onAsk={ask} key={photo} />;
  const verdict = state.submission?.value.verdict as unknown as VerdictData;
  return (
    <>
      {verdict.demonstration ? <DemonstrationLimits /> : null}
      {state.late.length > 0 ? (
        <Caution kind="note">
          {state.late.length} entries came after this submission; they are no part of its verdict. The
          inspector has to submit again.
        </Caution>
      ) : null}
      <div className={classes.desk}>
        <div>
          <Blindness state={state} reviewer={reviewer} filled={comparison.filled} />
          {comparison.parts.map((part) => (
            <PartCompare key={part.slot} part={part} onAsk={ask} />
          ))}
        </div>
        <aside className={classes.side}>
          {asking === null ? null : (
            <AskForm
              key={JSON.stringify(asking)}
              view={view}
              asking={asking}
              onDone={() => setAsking(null)}
            />
          )}
          <Questions view={view} questions={state.questions} />
          {open ? (
            <Settle view={view} own={comparison.own} second={comparison.second} onDone={onDone} />
          ) : (
            <Concluded state={state} mine={mine} />
          )}
          <p>
            <a href={`/audit?id=${state.id}`}>Everything that was done to this inspection</a>
          </p>
        </aside>
      </div>
    </>
  );
}

function Blindness({
  state,
  reviewer,
  filled,
}: {
  state: InspectionState;
  reviewer: string | null;
  filled: number;
}) {
  const people = usePeople();
  const second = reviewer === null ? undefined : state.seconds.get(reviewer);
  if (second === undefined || second.handedIn.length === 0)
    return <Empty>Nobody has handed in a second measurement of this inspection.</Empty>;
  return (
    <p>
      Second measurement by {people.get(reviewer ?? '') ?? 'someone'},{' '}
      {second.lookedEarly === null
        ? 'blind: handed in before the inspector’s figures were shown'
        : `not blind: looked at the inspector’s figures first, “${second.lookedEarly.value.reason}”`}
      .{' '}
      {filled === 0
        ? ''
        : `${filled} readings cannot be read in the photos; under the reviewer’s numbers the inspector’s stand in for them.`}
    </p>
  );
}
