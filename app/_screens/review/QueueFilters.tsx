'use client';
import { type RefObject, useId } from 'react';
import { ENERGY_WORDS } from '../../../lib/wheel/index.ts';
import type { Member } from '../../_client/people.ts';
import { Button, Field } from '../../_ui/kit.tsx';
import classes from './queue.module.css';
import { type Asked, narrowing, type QueueStatus, STATUS_WORDS, STATUSES, WAITING } from './queueAsked.ts';

const DAYS: readonly (readonly [days: string, words: string])[] = [
  ['1', 'a day or more'],
  ['3', 'three days or more'],
  ['7', 'a week or more'],
  ['30', '30 days or more'],
];

/** What the list is narrowed by. On a phone it is folded away behind one line that says what is on. */
export function QueueFilters(props: {
  readonly asked: Asked;
  readonly onAsk: (asked: Asked) => void;
  readonly open: boolean;
  readonly onOpen: (open: boolean) => void;
  readonly first: RefObject<HTMLSelectElement | null>;
  readonly machines: readonly string[];
  readonly reviewers: readonly Member[];
  readonly me: string;
}) {
  const { asked, onAsk, open, onOpen } = props;
  const fields = useId();
  const on = narrowing(asked);
  return (
    <search className={classes.filters} aria-label="Filters of the queue">
      <button
        type="button"
        className={classes.fold}
        aria-expanded={open}
        aria-controls={fields}
        onClick={() => onOpen(!open)}
      >
        <span>
          Show: <b>{STATUS_WORDS[asked.status]}</b>
          {on === 0 ? '' : `, ${on} ${on === 1 ? 'filter' : 'filters'}`}
        </span>
        <span>{open ? 'Close' : 'Change'}</span>
      </button>
      <div id={fields} className={open ? classes.fields : `${classes.fields} ${classes.folded}`}>
        <Fields {...props} />
        {on === 0 ? null : (
          <Button className={classes.clear} onClick={() => onAsk({ ...WAITING, status: asked.status })}>
            Clear filters
          </Button>
        )}
      </div>
    </search>
  );
}

function Fields({ asked, onAsk, first, machines, reviewers, me }: Parameters<typeof QueueFilters>[0]) {
  const ask = (change: Partial<Asked>) => onAsk({ ...asked, ...change });
  return (
    <>
      <Field label="Show">
        <select
          ref={first}
          value={asked.status}
          onChange={(event) => ask({ status: event.target.value as QueueStatus })}
        >
          {STATUSES.map((status) => (
            <option key={status} value={status}>
              {STATUS_WORDS[status]}
            </option>
          ))}
        </select>
      </Field>
      <Field label="Given to">
        <select value={asked.assigned} onChange={(event) => ask({ assigned: event.target.value })}>
          <option value="anyone">anyone or nobody</option>
          {reviewers.some(({ id }) => id === me) ? <option value="me">me</option> : null}
          <option value="nobody">nobody yet</option>
          {reviewers
            .filter(({ id }) => id !== me)
            .map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
        </select>
      </Field>
      <Field label="Machine">
        <select value={asked.machine} onChange={(event) => ask({ machine: event.target.value })}>
          <option value="">all machines</option>
          {machines.map((machine) => (
            <option key={machine}>{machine}</option>
          ))}
        </select>
      </Field>
      <Field label="Stored energy">
        <select value={asked.energy} onChange={(event) => ask({ energy: event.target.value })}>
          <option value="">any</option>
          {([4, 3, 2, 1] as const).map((energy) => (
            <option key={energy} value={energy}>
              {ENERGY_WORDS[energy]}
            </option>
          ))}
        </select>
      </Field>
      <Field label="Waiting">
        <select
          value={asked.days}
          disabled={asked.status === 'concluded'}
          onChange={(event) => ask({ days: event.target.value })}
        >
          <option value="">any time</option>
          {DAYS.map(([days, words]) => (
            <option key={days} value={days}>
              {words}
            </option>
          ))}
        </select>
      </Field>
    </>
  );
}
