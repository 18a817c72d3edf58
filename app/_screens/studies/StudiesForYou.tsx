'use client';
import { nextTurn } from '../../../lib/record/index.ts';
import { useStudies } from '../../_client/studies.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Card } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';

/** Gauge studies that wait for readings of the person at the device; nothing when there are none. */
export function StudiesForYou() {
  const { me } = useWorkplace();
  const waiting = useStudies().filter((study) => nextTurn(study, me.person.id) !== null);
  if (waiting.length === 0) return null;
  return (
    <Card title="Gauge studies that wait for you">
      <ul className={list.list}>
        {waiting.map((study) => (
          <li key={study.id}>
            <a className={list.row} href={`/studies?id=${study.id}`}>
              <span className={list.main}>
                <b>{study.plan?.value.name}</b>
                <small>{study.plan?.value.characteristic}</small>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </Card>
  );
}
