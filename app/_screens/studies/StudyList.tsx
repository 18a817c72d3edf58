'use client';
import { counted } from '../../../lib/base/index.ts';
import { nextTurn, type StudyState } from '../../../lib/record/index.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';

/** Studies in a list, with what they ask of the person at the device. */
export function StudyList({ studies }: { studies: readonly StudyState[] }) {
  const { me } = useWorkplace();
  const place = usePlace();
  return (
    <ul className={list.list}>
      {studies.map((study) => {
        const plan = study.plan?.value;
        if (plan === undefined) return null;
        return (
          <li key={study.id}>
            <button type="button" className={list.row} onClick={() => place.go({ id: study.id })}>
              <span className={list.main}>
                <b>{plan.name}</b>
                <small>
                  {plan.characteristic}; {counted(plan.parts.length, 'part')} ×{' '}
                  {counted(plan.people.length, 'person', 'people')} × {counted(plan.trials, 'trial')}; opened{' '}
                  <When at={study.plan?.at ?? ''} />
                </small>
              </span>
              <span className={list.aside}>{standingOf(study, me.person.id)}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}

function standingOf(study: StudyState, person: string): string {
  if (study.closed !== null) return 'closed';
  return nextTurn(study, person) === null ? 'open' : 'waits for you';
}
