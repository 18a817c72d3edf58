'use client';
import { type FormEvent, useState } from 'react';
import { type Problem, problem } from '../../../lib/base/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { parseTypedHours } from '../../../lib/units/index.ts';
import { now } from '../../_client/device.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';

/** What the meters of the machines show: hours on duty of everything on them are counted by that. */
export function Meters() {
  const { register, site, write } = useWorkplace();
  const machines = [...new Set([...register.wheels.values()].map(({ machine }) => machine))]
    .filter((one) => one !== '')
    .sort();
  const [machine, setMachine] = useState('');
  const [typed, setTyped] = useState('');
  const [on, setOn] = useState(() => now().slice(0, 10));
  const [wrong, setWrong] = useState<Problem | null>(null);
  const enter = async (event: FormEvent) => {
    event.preventDefault();
    const hours = parseTypedHours(typed, 'meter');
    if (!hours.ok) return setWrong(hours.error);
    if (on > now().slice(0, 10))
      return setWrong(
        problem('meter-day', 'on the day', on, 'The day lies in the future', 'Enter the day it was read.'),
      );
    setWrong(null);
    await write(kinds.machineHoursRead, site.id, { machine, hours: hours.value, on });
    setTyped('');
  };
  if (machines.length === 0) return null;
  return (
    <Card title="Meters of the machines">
      <ul className={list.list}>
        {machines.map((one) => {
          const last = register.meters.get(one)?.at(-1);
          return (
            <li key={one} className={list.row}>
              <span className={list.main}>{one}</span>
              <span className={list.aside}>
                {last === undefined ? 'never read' : `${last.hours} h on ${last.on}`}
              </span>
            </li>
          );
        })}
      </ul>
      <form onSubmit={(event) => void enter(event)}>
        <Field label="Machine">
          <select required value={machine} onChange={(event) => setMachine(event.target.value)}>
            <option value="">choose</option>
            {machines.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </Field>
        <Field label="Meter shows, hours">
          <input
            required
            inputMode="numeric"
            value={typed}
            onChange={(event) => setTyped(event.target.value)}
          />
        </Field>
        <Field label="On the day">
          <input type="date" required value={on} onChange={(event) => setOn(event.target.value)} />
        </Field>
        {wrong === null ? null : <ProblemNote problem={wrong} />}
        <Button type="submit" tone="act">
          Enter the meter
        </Button>
      </form>
    </Card>
  );
}
