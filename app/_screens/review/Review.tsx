'use client';
import { useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type Call, type InspectionState, kinds } from '../../../lib/record/index.ts';
import { type Conclusion, mayConclude, mayReview, submittedParts } from '../../../lib/review/index.ts';
import type { Verdict as VerdictData } from '../../../lib/rules/index.ts';
import { type InspectionView, useInspection } from '../../_client/inspection.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { UnrolledRim } from '../../_drawings/UnrolledRim.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Caution, Choice, Empty, Field, ProblemNote, When } from '../../_ui/kit.tsx';
import { PhotoScreen } from '../inspect/PhotoScreen.tsx';
import { PartReview } from './PartReview.tsx';
import classes from './review.module.css';

/** The second look: photos and numbers, own calls, then agree, send back or overrule. */
export function Review() {
  return (
    <Frame title="Review" back={{ href: '/queue', label: 'the queue' }} wide>
      <Body />
    </Frame>
  );
}

function Body() {
  const place = usePlace();
  const loaded = useInspection(place.get('id'));
  if (loaded.state === 'loading') return <p>Fetching the inspection …</p>;
  if (loaded.state === 'missing') {
    return (
      <Card title="This inspection is not here">
        {loaded.problem === null ? null : <ProblemNote problem={loaded.problem} />}
        <Empty>
          It cannot be fetched now. <a href="/queue">Back to the queue.</a>
        </Empty>
      </Card>
    );
  }
  const photo = place.get('photo');
  if (photo !== null) return <PhotoScreen view={loaded.value} photo={photo} key={photo} />;
  return <Desk view={loaded.value} />;
}

export interface OwnCall {
  readonly call: Call;
  readonly reason: string;
}

function Desk({ view }: { view: InspectionView }) {
  const place = usePlace();
  const { me, has } = useWorkplace();
  const people = usePeople();
  const { state, wheel } = view;
  const [calls, setCalls] = useState<ReadonlyMap<string, OwnCall>>(new Map());
  const may = mayReview(state, me.person.id);
  const verdict =
    state.submission === null ? view.verdict : (state.submission.value.verdict as unknown as VerdictData);
  return (
    <>
      <div className={classes.head}>
        <div>
          <b className={classes.tag}>{wheel.tag}</b> {wheel.machine} {wheel.position}, {wheel.designation},{' '}
          {wheel.construction}
        </div>
        <div>
          {state.reason}; inspected by{' '}
          {people.get(state.submission?.author ?? state.opened?.author ?? '') ?? 'someone'}
          {state.submission === null ? ', not submitted' : ', submitted '}
          {state.submission === null ? null : <When at={state.submission.at} />}
        </div>
      </div>
      {verdict.demonstration ? (
        <Caution kind="note">The verdict rests on demonstration limits. It is not for real rims.</Caution>
      ) : null}
      {state.late.length > 0 ? (
        <Caution kind="note">
          {state.late.length} entries came after this submission; they are shown, and are not part of its
          verdict.
        </Caution>
      ) : null}
      <div className={classes.desk}>
        <div>
          <UnrolledRim
            construction={view.construction}
            state={state}
            verdict={verdict}
            onPhoto={(photo) => place.go({ photo })}
          />
          {verdict.parts.map((part) => (
            <PartReview
              key={part.slot}
              verdict={verdict}
              view={view}
              part={part}
              own={part.component === null ? null : (calls.get(part.component) ?? null)}
              open={may.ok && has('reviewer') && state.conclusion === null}
              onCall={(own) => part.component !== null && setCalls(new Map(calls).set(part.component, own))}
            />
          ))}
        </div>
        <aside className={classes.side}>
          {state.conclusion === null ? (
            may.ok && has('reviewer') ? (
              <Conclude view={view} calls={calls} />
            ) : (
              <Card title="Not yours to review">
                {may.ok ? <p>You are not a reviewer at this site.</p> : <ProblemNote problem={may.error} />}
              </Card>
            )
          ) : (
            <Concluded state={state} />
          )}
        </aside>
      </div>
    </>
  );
}

function Concluded({ state }: { state: InspectionState }) {
  const people = usePeople();
  if (state.conclusion === null) return null;
  const { value, author, at } = state.conclusion;
  return (
    <Card title={`Review: ${value.outcome}`}>
      <p>
        {people.get(author) ?? 'someone'}, <When at={at} />
      </p>
      {value.reason === '' ? null : <p>“{value.reason}”</p>}
      <a href={`/wheel?id=${state.wheel}&inspection=${state.id}`}>Open the page in the wheel’s book</a>
    </Card>
  );
}

const OUTCOMES = ['agreed', 'sent back', 'overruled'] as const;

function Conclude({ view, calls }: { view: InspectionView; calls: ReadonlyMap<string, OwnCall> }) {
  const { write, exchange, me } = useWorkplace();
  const { state } = view;
  const [outcome, setOutcome] = useState<Conclusion['outcome'] | null>(null);
  const [reason, setReason] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const parts = submittedParts(state).filter((part) => part.component !== null);
  const open = parts.filter((part) => !calls.has(part.component ?? ''));
  const differ = parts.filter((part) => {
    const own = calls.get(part.component ?? '');
    return own !== undefined && own.call !== part.result;
  });
  const sign = async () => {
    if (outcome === null || state.submission === null) return;
    if (outcome !== 'agreed' && reason.trim() === '') {
      return setWrong(
        problem(
          'review-reason',
          'reason',
          '',
          'Sending back and overruling need a reason',
          'Say in a sentence what you saw or miss.',
        ),
      );
    }
    const conclusion: Conclusion = {
      submission: state.submission.entry,
      outcome,
      reason: reason.trim(),
      calls: [...calls].map(([component, own]) => ({ component, ...own, limit: '' })),
      signed: 'password entered again',
    };
    const may = mayConclude(state, conclusion, me.person.id);
    if (!may.ok) return setWrong(may.error);
    setBusy(true);
    await write(kinds.reviewConcluded, state.id, conclusion);
    await exchange();
    setBusy(false);
  };
  return (
    <Card title="Your conclusion">
      <p>
        {open.length > 0
          ? `Your call is open for: ${open.map((part) => part.slot).join(', ')}.`
          : 'You have called every part.'}
        {differ.length > 0 ? ` You differ on: ${differ.map((part) => part.slot).join(', ')}.` : ''}
      </p>
      <Choice
        legend="Outcome"
        options={OUTCOMES}
        words={{ agreed: 'Agree', 'sent back': 'Send back', overruled: 'Overrule' }}
        value={outcome}
        onChoose={setOutcome}
      />
      <Field label={outcome === 'agreed' ? 'Remark' : 'Reason'}>
        <textarea rows={4} value={reason} onChange={(event) => setReason(event.target.value)} />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button tone="act" block disabled={outcome === null || busy} onClick={() => void sign()}>
        Sign the review
      </Button>
    </Card>
  );
}
