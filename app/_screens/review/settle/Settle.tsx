'use client';
import { useRef, useState } from 'react';
import { canonicalJson, type Problem, problem } from '../../../../lib/base/index.ts';
import { type Entry, type InspectionState, kinds, makeEntry } from '../../../../lib/record/index.ts';
import {
  type Conclusion,
  disagreementsOn,
  isMilder,
  mayConclude,
  type SubmittedPart,
  submittedParts,
} from '../../../../lib/review/index.ts';
import type { Verdict } from '../../../../lib/rules/index.ts';
import { deviceId, newId, now } from '../../../_client/device.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { signEntry } from '../../../_client/remote.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Button, Card, Choice, Field, ProblemNote } from '../../../_ui/kit.tsx';
import { problemOf } from '../../SignIn.tsx';
import classes from '../review.module.css';
import { FinalCall, type OwnCall } from './FinalCall.tsx';
import { useDraftOf } from './useDraftOf.ts';

const OUTCOMES = ['agreed', 'overruled', 'handed on', 'sent back'] as const;
const WORDS = {
  agreed: 'Agree',
  overruled: 'Overrule',
  'handed on': 'Hand on to a third person',
  'sent back': 'Send back',
} as const;

interface Draft {
  readonly calls: Readonly<Record<string, OwnCall>>;
  readonly outcome: Conclusion['outcome'] | null;
  readonly reason: string;
}
const EMPTY: Draft = { calls: {}, outcome: null, reason: '' };

type Part = SubmittedPart & { readonly component: string };

/** What fits the calls as they are: agreeing, overruling, or handing the second disagreement on. */
function fitting(
  state: InspectionState,
  parts: readonly Part[],
  calls: Draft['calls'],
): Conclusion['outcome'] {
  const differing = parts.filter(({ component, result }) => {
    const call = calls[component]?.call;
    return call !== undefined && call !== result;
  });
  if (differing.length === 0) return 'agreed';
  if (differing.some(({ component, result }) => isMilder(calls[component]?.call ?? result, result)))
    return 'sent back';
  const again = differing.some(({ component }) => disagreementsOn(state, component) > 0);
  return again && state.status !== 'third person' ? 'handed on' : 'overruled';
}

/** Final calls, the outcome, and the signature with the password. What is typed stays on the device until it is signed. */
export function Settle({
  view,
  own,
  second,
  onDone,
}: {
  view: InspectionView;
  own: InspectionState;
  second: Verdict;
  onDone(): Promise<void>;
}) {
  const { me, site } = useWorkplace();
  const { state } = view;
  const [draft, setDraft] = useDraftOf<Draft>(`conclude|${state.submission?.entry}`, EMPTY);
  const [password, setPassword] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const [busy, setBusy] = useState(false);
  const made = useRef(new Map<string, Entry>());
  const parts = submittedParts(state).filter((part): part is Part => part.component !== null);
  const calls: Record<string, OwnCall> = Object.fromEntries(
    parts.flatMap(({ component }) => {
      const first = own.calls.get(component)?.value;
      const call = draft.calls[component] ?? (first && { call: first.call, reason: first.reason, limit: '' });
      return call === undefined ? [] : [[component, call]];
    }),
  );
  const outcome = draft.outcome ?? fitting(state, parts, calls);
  const submitted = state.submission?.value.verdict as unknown as Verdict;
  const sign = async () => {
    const conclusion: Conclusion = {
      submission: state.submission?.entry ?? '',
      outcome,
      reason: draft.reason.trim(),
      calls: Object.entries(calls).map(([component, call]) => ({
        component,
        call: call.call,
        reason: call.reason.trim(),
        limit: call.limit.trim(),
      })),
      signed: 'password entered again',
    };
    const refusal = signable(state, conclusion, me.person.id, password);
    if (refusal !== null) return setWrong(refusal);
    // The same words are the same entry, so that signing again after a lost answer is harmless.
    const words = canonicalJson(conclusion);
    const context = { id: newId(), site: site.id, at: now(), author: me.person.id, device: deviceId() };
    const entry = made.current.get(words) ?? makeEntry(kinds.reviewConcluded, state.id, conclusion, context);
    made.current.set(words, entry);
    setBusy(true);
    try {
      const outcomeOf = await signEntry(password, entry);
      if (outcomeOf.status === 'refused') setWrong(outcomeOf.problem);
      else {
        setPassword('');
        setDraft(EMPTY);
        await onDone();
      }
    } catch (error) {
      setWrong(problemOf(error));
    }
    setBusy(false);
  };
  return (
    <Card title="Your conclusion">
      {parts.map((part) => (
        <FinalCall
          key={part.component}
          part={part}
          own={calls[part.component]}
          verdicts={[submitted, second]}
          onCall={(call) => setDraft({ ...draft, calls: { ...draft.calls, [part.component]: call } })}
        />
      ))}
      <Choice
        legend="Outcome"
        options={OUTCOMES}
        words={WORDS}
        value={outcome}
        onChoose={(value) => setDraft({ ...draft, outcome: value })}
      />
      <Field label={outcome === 'agreed' ? 'Remark' : 'Reason'}>
        <textarea
          rows={3}
          maxLength={4000}
          value={draft.reason}
          onChange={(event) => setDraft({ ...draft, reason: event.target.value })}
        />
      </Field>
      <form
        className={classes.sign}
        onSubmit={(event) => {
          event.preventDefault();
          void sign();
        }}
      >
        <input type="hidden" name="username" autoComplete="username" value={me.person.email} readOnly />
        <Field label="Your password, to sign">
          <input
            type="password"
            data-sign=""
            autoComplete="current-password"
            value={password}
            onChange={(event) => setPassword(event.target.value)}
          />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit" tone="act" block disabled={busy}>
          Sign the review
        </Button>
      </form>
    </Card>
  );
}

/** Why this cannot be signed yet; null: it can. */
function signable(
  state: InspectionState,
  conclusion: Conclusion,
  person: string,
  password: string,
): Problem | null {
  if (conclusion.outcome !== 'agreed' && conclusion.reason === '') {
    return problem(
      'review-reason',
      'reason',
      '',
      'Everything but agreeing needs a reason',
      'Say in a sentence what you saw or miss.',
    );
  }
  const may = mayConclude(state, conclusion, person);
  if (!may.ok) return may.error;
  return password === ''
    ? problem('sign-password', 'password', '', 'A review is signed with your password', 'Enter it again.')
    : null;
}
