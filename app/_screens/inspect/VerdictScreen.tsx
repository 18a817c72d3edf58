'use client';
import { useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type Call, foldInspection, kinds } from '../../../lib/record/index.ts';
import { isMilder } from '../../../lib/review/index.ts';
import type { PartVerdict } from '../../../lib/rules/index.ts';
import { type InspectionView, useDecide } from '../../_client/inspection.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Choice, Field, ProblemNote, Verdict, When } from '../../_ui/kit.tsx';
import { Findings } from './Findings.tsx';
import { useMayAdd } from './Inspect.tsx';
import { MissingList } from './MissingList.tsx';
import { missingText } from './PlanScreen.tsx';

const CALLS: readonly Call[] = ['keep', 'repair', 'scrap', 'hold'];

/** The verdict of every part with its reasons, the inspector's own calls, and the submission. */
export function VerdictScreen({ view }: { view: InspectionView }) {
  const place = usePlace();
  const { verdict, state } = view;
  return (
    <>
      <Button onClick={() => place.go({ screen: null })}>All parts</Button>
      {verdict.demonstration ? (
        <Caution kind="note">This verdict rests on demonstration limits. It is not for real rims.</Caution>
      ) : null}
      {verdict.tables.length === 0 ? (
        <Caution kind="note">No table is in force at this site, so nothing can be kept.</Caution>
      ) : null}
      {verdict.parts.map((part) => (
        <PartCard key={part.slot} view={view} part={part} />
      ))}
      <Card title={verdict.assembly.fit ? 'Fit to go together' : 'Not fit to go together'}>
        {verdict.assembly.reasons.length === 0 ? (
          <p>Every part is keep, every pair matches, every point of assembly is answered.</p>
        ) : (
          <ul>
            {verdict.assembly.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        )}
      </Card>
      <Submit view={view} />
      <p>
        Engine {verdict.engine}. Tables:{' '}
        {verdict.tables
          .map((table) => `${table.title}, ${table.edition} (${table.hash.slice(0, 12)})`)
          .join('; ') || 'none'}
        .{' '}
        {state.submission === null ? (
          ''
        ) : (
          <>
            Last submitted <When at={state.submission.at} />.
          </>
        )}
      </p>
    </>
  );
}

function PartCard({ view, part }: { view: InspectionView; part: PartVerdict }) {
  const { write, register } = useWorkplace();
  const { may } = useMayAdd(view);
  const component = part.component;
  const call = component === null ? undefined : view.state.calls.get(component)?.value;
  const [reason, setReason] = useState(call?.reason ?? '');
  const make = (value: Call) => {
    if (component !== null)
      void write(kinds.callMade, view.state.id, { component, call: value, reason: reason.trim() });
  };
  return (
    <Card title={part.slot} aside={<Verdict result={part.result} large />}>
      <p>{missingText(part)}.</p>
      <Findings
        findings={part.findings}
        verdict={view.verdict}
        slot={part.slot}
        instruments={register.instruments}
      />
      {part.missing.length === 0 ? null : (
        <details>
          <summary>What is missing ({part.missing.length})</summary>
          <MissingList slot={part.slot} missing={part.missing} />
        </details>
      )}
      {component === null || !may ? null : (
        <>
          <Choice legend="Your own call" options={CALLS} value={call?.call ?? null} onChoose={make} />
          <Field label="Why, where it differs from the verdict">
            <input
              value={reason}
              onChange={(event) => setReason(event.target.value)}
              onBlur={() => call !== undefined && reason.trim() !== call.reason && make(call.call)}
            />
          </Field>
        </>
      )}
    </Card>
  );
}

/** Signs the inspection off to the reviewer. The submission names every entry that it rests on. */
function Submit({ view }: { view: InspectionView }) {
  const { write, exchange, store, connection } = useWorkplace();
  const decideNow = useDecide();
  const { may, why } = useMayAdd(view);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const { state } = view;
  const called = view.verdict.parts.filter(
    (part) => part.component !== null && view.state.calls.has(part.component),
  ).length;
  const identified = view.verdict.parts.filter((part) => part.component !== null).length;
  const missing = view.verdict.parts.reduce((sum, part) => sum + part.missing.length, 0);
  const milder = view.verdict.parts.find((part) => {
    const call = part.component === null ? undefined : view.state.calls.get(part.component)?.value;
    return call !== undefined && call.reason === '' && isMilder(call.call, part.result);
  });
  const submit = async () => {
    if (milder !== undefined) {
      setWrong(
        problem(
          'call-milder',
          'your own call',
          `${milder.slot}: ${view.state.calls.get(milder.component ?? '')?.value.call ?? ''}`,
          `The verdict on the ${milder.slot} is ${milder.result}; a milder call needs its reason`,
          'Write why beside the call, or change it.',
        ),
      );
      return;
    }
    setBusy(true);
    const entries = await store.entriesOf('inspection', state.id);
    const fresh = foldInspection(entries);
    const dirty = (await store.outbox()).filter(
      (item) => item.state === 'refused' && fresh.coverable.includes(item.id),
    );
    if (dirty.length > 0) {
      setWrong(
        problem(
          'refused-entries',
          'outbox',
          dirty.length,
          'Entries of this inspection were refused by the server',
          'Open “Not sent yet”, put them right, then submit.',
        ),
      );
      setBusy(false);
      return;
    }
    await write(kinds.inspectionSubmitted, state.id, {
      covers: [...fresh.coverable],
      verdict: { ...decideNow(fresh, view.wheel).verdict },
    });
    await exchange();
    setBusy(false);
  };
  if (!may) return <Caution kind="note">{why}</Caution>;
  if ((state.status === 'submitted' || state.status === 'asked') && state.late.length === 0) {
    return (
      <Card title="Submitted">
        <p>
          Signed <When at={state.submission?.at ?? ''} />.{' '}
          {connection === 'connected'
            ? state.status === 'asked'
              ? 'The reviewer asks something: see the questions above all parts.'
              : 'The reviewer has it.'
            : 'It goes to the reviewer as soon as there is a connection.'}{' '}
          Whatever you add now has to be submitted again.
        </p>
      </Card>
    );
  }
  return (
    <Card title={state.late.length > 0 ? 'Submit again' : 'Submit'}>
      {state.late.length > 0 ? <p>{state.late.length} entries are newer than the last submission.</p> : null}
      <p>
        Calls made: {called} of {identified};{' '}
        {missing === 0 ? 'nothing is missing' : `${missing} things are still missing`}. The verdict and
        everything it rests on go to a reviewer.
      </p>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button tone="act" block disabled={busy} onClick={() => void submit()}>
        Sign and submit
      </Button>
    </Card>
  );
}
