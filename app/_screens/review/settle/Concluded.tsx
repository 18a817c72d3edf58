'use client';
import type { InspectionState } from '../../../../lib/record/index.ts';
import { mayReview, submittedParts } from '../../../../lib/review/index.ts';
import { usePeople } from '../../../_client/people.ts';
import { useWorkplace } from '../../../_client/Workplace.tsx';
import { Card, ProblemNote, When } from '../../../_ui/kit.tsx';

/** The conclusions so far, or why somebody else has to conclude. */
export function Concluded({ state, mine }: { state: InspectionState; mine: boolean }) {
  const { me, has } = useWorkplace();
  const people = usePeople();
  const may = mayReview(state, me.person.id);
  const all = [...state.earlierConclusions, ...(state.conclusion === null ? [] : [state.conclusion])];
  const slots = new Map(submittedParts(state).map(({ component, slot }) => [component, slot]));
  return (
    <>
      {state.conclusion === null || state.status === 'third person' ? (
        <Card title={state.status === 'third person' ? 'Waits for a third person' : 'Not yours to conclude'}>
          {state.status === 'third person' ? (
            <p>
              Two people disagreed twice. A reviewer who has not concluded it before measures and decides.
            </p>
          ) : !has('reviewer') ? (
            <p>You are not a reviewer at this site.</p>
          ) : may.ok ? (
            <p>{mine ? '' : 'You have not measured it.'}</p>
          ) : (
            <ProblemNote problem={may.error} />
          )}
        </Card>
      ) : null}
      {[...all].reverse().map(({ value, author, at, entry }) => (
        <Card key={entry} title={`Review: ${value.outcome}`}>
          <p>
            {people.get(author) ?? 'someone'}, <When at={at} />,{' '}
            {value.signed === 'password entered again'
              ? 'signed with the password'
              : 'signed by being signed in'}
          </p>
          {value.reason === '' ? null : <p>“{value.reason}”</p>}
          <ul>
            {value.calls
              .filter(({ reason, limit }) => reason !== '' || limit !== '')
              .map((call) => (
                <li key={call.component}>
                  {slots.get(call.component) ?? 'a part'}: {call.call}
                  {call.reason === '' ? '' : `, “${call.reason}”`}
                  {call.limit === '' ? '' : `; limit: ${call.limit}`}
                </li>
              ))}
          </ul>
        </Card>
      ))}
      <p>
        <a href={`/wheel?id=${state.wheel}&inspection=${state.id}`}>Open the page in the wheel’s book</a>
      </p>
    </>
  );
}
