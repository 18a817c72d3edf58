'use client';
import type { InspectionState } from '../../../../lib/record/index.ts';
import {
  type Conclusion,
  disagreementsOn,
  isMilder,
  mayConclude,
  type SubmittedPart,
  submittedParts,
} from '../../../../lib/review/index.ts';
import type { Verdict } from '../../../../lib/rules/index.ts';
import type { InspectionView } from '../../../_client/inspection.ts';
import { useDraftOf } from '../../../_client/useDraft.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Card, Choice, Field } from '../../../_ui/kit.tsx';
import { FinalCall, type OwnCall } from './FinalCall.tsx';
import { SignForm } from './SignForm.tsx';
import { useSigning } from './useSigning.ts';

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
  const { me } = useWorkplace();
  const { state } = view;
  const [draft, setDraft] = useDraftOf<Draft>(`conclude|${state.submission?.entry}`, EMPTY);
  const { sign, wrong, busy } = useSigning(state.id, onDone);
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
  const conclude = async (password: string): Promise<boolean> => {
    const conclusion: Conclusion = {
      submission: state.submission?.entry ?? '',
      outcome,
      reason: draft.reason.trim(),
      calls: (outcome === 'sent back' ? [] : Object.entries(calls)).map(([component, call]) => ({
        component,
        call: call.call,
        reason: call.reason.trim(),
        limit: call.limit.trim(),
      })),
      signed: 'password entered again',
    };
    const may = mayConclude(state, conclusion, me.person.id);
    const signed = await sign(conclusion, password, may.ok ? null : may.error);
    if (signed) setDraft(EMPTY);
    return signed;
  };
  return (
    <Card title="Your conclusion">
      {parts.map((part) => (
        <FinalCall
          key={part.component}
          part={part}
          own={calls[part.component]}
          measured={own.calls.get(part.component)?.value.call ?? null}
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
      <SignForm words="Sign the review" wrong={wrong} busy={busy} onSign={conclude} />
    </Card>
  );
}
