'use client';
import { type FormEvent, useState } from 'react';
import { counted } from '../../../lib/base/index.ts';
import { isExpired } from '../../../lib/readings/index.ts';
import { kinds, type StudyPlan, type StudyState } from '../../../lib/record/index.ts';
import { studyGaps } from '../../../lib/review/agreement/index.ts';
import { showLength } from '../../../lib/units/index.ts';
import { NAME_UNKNOWN, usePeople } from '../../_client/people.ts';
import { useWholeStudy } from '../../_client/studies.ts';
import { useUnits } from '../../_client/units.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, Field } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { StudyEntry } from './StudyEntry.tsx';
import { StudyResults } from './StudyResults.tsx';
import classes from './studies.module.css';

export interface StudyProps {
  readonly study: StudyState;
  readonly plan: StudyPlan;
}

/** One study: the reading asked for next, how far everybody is, and, to those who may see it, what came out. */
export function StudyPage({ study, plan }: StudyProps) {
  const { has, me } = useWorkplace();
  const { over, reached, whole } = useWholeStudy(study);
  const measures = plan.people.includes(me.person.id);
  const closed = study.closed !== null;
  // Nothing was held back from a lead who does not measure.
  const toldAll = has('lead') && !measures;
  const sees = closed || toldAll;
  return (
    <>
      <h2 className={classes.name}>{plan.name}</h2>
      <Facts study={study} plan={plan} />
      {measures && !closed ? <StudyEntry study={study} plan={plan} /> : null}
      {closed && !whole && !toldAll ? (
        <Empty>
          {over && !reached
            ? 'The study is closed. The readings of the others come with a connection.'
            : 'Fetching the readings of the others …'}
        </Empty>
      ) : null}
      {toldAll || (closed && whole) ? <StudyResults study={study} plan={plan} /> : null}
      {!sees && !measures ? (
        <Empty>The readings are shown to everybody when the study is closed.</Empty>
      ) : null}
      {has('lead') && !closed ? <Closing study={study} plan={plan} sees={sees} /> : null}
    </>
  );
}

function Facts({ study, plan }: StudyProps) {
  const { register } = useWorkplace();
  const people = usePeople();
  const [units] = useUnits();
  const instrument = register.instruments.get(plan.instrument);
  const expired = instrument !== undefined && study.plan !== null && isExpired(instrument, study.plan.at);
  return (
    <Card>
      <p className={classes.facts}>
        {plan.characteristic}
        {plan.state === null ? '' : `, ring ${plan.state}`}, with{' '}
        {instrument?.name ?? 'an instrument not known here'}; {counted(plan.parts.length, 'part')},{' '}
        {counted(plan.trials, 'trial')}.{' '}
        {plan.tolerance === null
          ? 'No tolerance to compare with.'
          : `Tolerance ${showLength(plan.tolerance.valueMm, units, 2)} wide.`}
      </p>
      <p className={classes.facts}>{plan.people.map((id) => people.get(id) ?? NAME_UNKNOWN).join(', ')}</p>
      {expired ? (
        <Caution>The calibration of the instrument did not cover the opening of this study.</Caution>
      ) : null}
      {study.closed === null ? null : <p className={classes.facts}>Closed: {study.closed.value.reason}</p>}
    </Card>
  );
}

/** How many readings each person still has to enter; shown to a lead who does not measure. */
function Progress({ study, plan }: StudyProps) {
  const people = usePeople();
  const gaps = studyGaps(study);
  const each = plan.parts.length * plan.trials;
  return (
    <ul className={list.list}>
      {plan.people.map((person) => {
        const open = gaps.filter((gap) => gap.person === person).length;
        return (
          <li key={person} className={list.row}>
            <span className={list.main}>{people.get(person) ?? NAME_UNKNOWN}</span>
            <span className={list.aside}>
              {each - open} of {each}
            </span>
          </li>
        );
      })}
    </ul>
  );
}

function Closing({ study, plan, sees }: StudyProps & { sees: boolean }) {
  const { write } = useWorkplace();
  const [reason, setReason] = useState<string | null>(null);
  const missing = sees ? studyGaps(study).length : null;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (reason !== null) void write(kinds.studyClosed, study.id, { reason });
  };
  return (
    <Card title="Close the study">
      {sees ? <Progress study={study} plan={plan} /> : null}
      {reason === null ? (
        <Button onClick={() => setReason(missing === 0 ? 'All readings are taken' : '')}>Close it …</Button>
      ) : (
        <form onSubmit={submit}>
          {missing === 0 ? null : (
            <Caution>
              {missing === null ? 'Readings may be missing' : `${counted(missing, 'reading')} missing`}: an
              incomplete study gives no figures, and a closed one takes no more readings.
            </Caution>
          )}
          <Caution kind="note">
            Devices that have not sent yet cannot send readings afterwards. From then on everybody at the site
            sees all readings.
          </Caution>
          <Field label="Reason">
            <input
              required
              maxLength={500}
              value={reason}
              onChange={(event) => setReason(event.target.value)}
            />
          </Field>
          <div className={classes.actions}>
            <Button type="submit" tone="grave" disabled={reason.trim() === ''}>
              Close the study
            </Button>
            <Button onClick={() => setReason(null)}>Leave it open</Button>
          </div>
        </form>
      )}
    </Card>
  );
}
