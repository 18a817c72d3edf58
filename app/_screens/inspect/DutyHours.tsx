'use client';
import { type FormEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { type ComponentState, kinds } from '../../../lib/record/index.ts';
import { hoursFall } from '../../../lib/rules/index.ts';
import { parseTypedHours } from '../../../lib/units/index.ts';
import { now } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Caution, Choice, Field, ProblemNote } from '../../_ui/kit.tsx';
import classes from './inspect.module.css';

const BASES = ['meter of the machine', 'estimate'] as const;

/** Hours on duty of a part as last noted, and the way to note them anew. */
export function DutyHours({ component }: { component: ComponentState }) {
  const { has } = useWorkplace();
  const [open, setOpen] = useState(false);
  const noted = component.hoursNoted.at(-1) ?? null;
  return (
    <>
      {hoursFall(component.hoursNoted) ? (
        <Caution>
          Later notes say fewer hours than earlier ones, so nobody knows: note them again for the day on which
          they were wrong.
        </Caution>
      ) : null}
      <p>
        {noted === null
          ? 'Hours on duty not known.'
          : `${noted.hours} h on duty on ${noted.on}, give or take ${noted.giveOrTakeHours} h (${noted.basis}).`}
      </p>
      {open ? (
        <HoursForm component={component.id} onDone={() => setOpen(false)} />
      ) : has('inspector') || has('lead') ? (
        <div className={classes.tools}>
          <Button onClick={() => setOpen(true)}>Note hours on duty</Button>
        </div>
      ) : null}
    </>
  );
}

function HoursForm({ component, onDone }: { component: string; onDone(): void }) {
  const { write } = useWorkplace();
  const [typed, setTyped] = useState('');
  const [giveOrTake, setGiveOrTake] = useState('');
  const [on, setOn] = useState(() => now().slice(0, 10));
  const [basis, setBasis] = useState<(typeof BASES)[number] | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const hours = parseTypedHours(typed, 'hours on duty');
    if (!hours.ok) return setWrong(hours.error);
    const giveOrTakeHours = parseTypedHours(giveOrTake, 'give or take');
    if (!giveOrTakeHours.ok) return setWrong(giveOrTakeHours.error);
    if (on > now().slice(0, 10)) {
      return setWrong(
        problem('hours', 'day', on, 'The day lies in the future', 'Enter the day the hours are of.'),
      );
    }
    if (basis === null) {
      return setWrong(problem('hours', 'from', '', 'Nothing is chosen', 'Choose where the hours come from.'));
    }
    await write(kinds.dutyHoursNoted, component, {
      hours: hours.value,
      giveOrTakeHours: giveOrTakeHours.value,
      basis,
      on,
    });
    onDone();
  };
  return (
    <form onSubmit={submit}>
      <Field label="Hours on duty of this part" hint="Over all wheels and machines it was in; whole hours">
        <input
          inputMode="numeric"
          required
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
        />
      </Field>
      <Field label="Give or take, hours" hint="How far off that may be at most">
        <input
          inputMode="numeric"
          required
          value={giveOrTake}
          onChange={(event) => setGiveOrTake(event.target.value)}
        />
      </Field>
      <Field label="On the day">
        <input type="date" required value={on} onChange={(event) => setOn(event.target.value)} />
      </Field>
      <Choice legend="From" options={BASES} value={basis} onChoose={setBasis} />
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <div className={classes.tools}>
        <Button type="submit" tone="act">
          Enter the hours
        </Button>
        <Button onClick={onDone}>Cancel</Button>
      </div>
    </form>
  );
}
