'use client';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import { kinds } from '../../../lib/record/index.ts';
import { bundledTables, isDemonstration } from '../../../lib/tolerances/index.ts';
import { now } from '../../_client/device.ts';
import { useMembers, usePeople } from '../../_client/people.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, DemonstrationLimits, Empty, ProblemNote } from '../../_ui/kit.tsx';
import { byMachine } from '../../_ui/machines.ts';
import { QueueFilters } from './QueueFilters.tsx';
import { QueueKeys } from './QueueKeys.tsx';
import { mayTake, QueueRow, type Reader } from './QueueRow.tsx';
import classes from './queue.module.css';
import {
  type Asked,
  askedIn,
  EMPTY_WORDS,
  narrowing,
  queueSearch,
  STATUS_WORDS,
  searchOf,
  WAITING,
} from './queueAsked.ts';
import { useQueueKeys } from './queueKeys.ts';
import { type Line, useQueue } from './useQueue.ts';

/** Inspections by what could hurt first. */
export function Queue() {
  return (
    <Frame title="Review queue" back={{ href: '/', label: 'start' }} wide>
      <Lines />
    </Frame>
  );
}

function useAsked(): [Asked, (asked: Asked) => void] {
  const [asked, setAsked] = useState<Asked>(() => askedIn(window.location.search));
  const ask = useCallback((next: Asked) => {
    window.history.replaceState(null, '', `${window.location.pathname}${searchOf(next)}`);
    setAsked(next);
  }, []);
  return [asked, ask];
}

/** Who reads, with a clock that goes on by the minute. */
function useReader(): Reader {
  const { me, has } = useWorkplace();
  const members = useMembers();
  const names = usePeople();
  const [moment, setMoment] = useState(now);
  useEffect(() => {
    const timer = setInterval(() => setMoment(now()), 30_000);
    return () => clearInterval(timer);
  }, []);
  const [reviewer, lead] = [has('reviewer'), has('lead')];
  return useMemo(() => {
    const reviewers = members.filter(({ roles }) => roles.includes('reviewer'));
    return { id: me.person.id, reviewer, lead, reviewers, names, now: moment };
  }, [me, reviewer, lead, members, names, moment]);
}

/** Gives a review to somebody, and what became of it in words. */
function useGiving(reader: Reader, refresh: () => Promise<void>) {
  const { write, exchange, store } = useWorkplace();
  const [said, setSaid] = useState('');
  const give = useCallback(
    async (line: Line, to: string | null) => {
      const entry = await write(kinds.reviewAssigned, line.id, { to, note: '' });
      await exchange();
      const left = (await store.outbox()).find(({ id }) => id === entry.id)?.state;
      const whom = to === reader.id ? 'you' : to === null ? 'nobody' : (reader.names.get(to) ?? 'a reviewer');
      setSaid(
        left === 'refused'
          ? `${line.tag} was not given to ${whom}: the reason stands under "Not sent yet".`
          : left === 'waiting'
            ? `${line.tag} will be given to ${whom} as soon as there is a connection.`
            : `${line.tag} is given to ${whom}.`,
      );
      await refresh();
    },
    [write, exchange, store, refresh, reader.id, reader.names],
  );
  return { give, said, setSaid };
}

function Lines() {
  const { site, register } = useWorkplace();
  const reader = useReader();
  const [asked, ask] = useAsked();
  const machines = useMemo(() => byMachine(register.wheels.values()), [register]);
  const wheels = machines.find(({ machine }) => machine === asked.machine)?.wheels.map(({ id }) => id) ?? [];
  const queue = useQueue(queueSearch(site.id, asked, wheels));
  const { lines, more, problem } = queue;
  const { give, said, setSaid } = useGiving(reader, queue.refresh);
  const list = useRef<HTMLUListElement>(null);
  const firstFilter = useRef<HTMLSelectElement>(null);
  const [filtersOpen, setFiltersOpen] = useState(false);
  const [keysShown, setKeysShown] = useState(false);
  const acts = useMemo(
    () => ({
      take: (id: string) => {
        const line = lines?.find((one) => one.id === id);
        if (line === undefined || !mayTake(line, reader)) setSaid('This review is not yours to take on.');
        else if (line.assignedTo !== reader.id) void give(line, reader.id);
      },
      toFilters: () => {
        // A folded field takes the focus only once it is there.
        flushSync(() => setFiltersOpen(true));
        firstFilter.current?.focus();
      },
      showKeys: (shown: boolean | null) => setKeysShown((before) => shown ?? !before),
    }),
    [lines, give, setSaid, reader],
  );
  useQueueKeys(list, acts);
  return (
    <div className={classes.queue}>
      <QueueFilters
        asked={asked}
        onAsk={ask}
        open={filtersOpen}
        onOpen={setFiltersOpen}
        first={firstFilter}
        machines={machines.map(({ machine }) => machine).filter((name) => name !== '')}
        reviewers={reader.reviewers}
        me={reader.id}
      />
      <div className={classes.head}>
        <h2>{STATUS_WORDS[asked.status]}</h2>
        <p>{countWords(lines, more)}</p>
        <QueueKeys shown={keysShown} onShow={setKeysShown} />
      </div>
      <p className={said === '' ? 'visually-hidden' : classes.said} role="status">
        {said}
      </p>
      {problem === null ? null : <ProblemNote problem={problem} />}
      {lines === null && problem === null ? <p>Fetching …</p> : null}
      {lines?.length === 0 ? <Nothing asked={asked} onAsk={ask} /> : null}
      <OnDemonstration />
      <ul className={classes.list} ref={list} aria-label={STATUS_WORDS[asked.status]}>
        {(lines ?? []).map((line) => (
          <QueueRow
            key={line.id}
            line={line}
            wheel={register.wheels.get(line.wheel)}
            reader={reader}
            onGive={(one, to) => void give(one, to)}
          />
        ))}
      </ul>
      {more ? (
        <Button block onClick={() => void queue.fetchMore()}>
          More
        </Button>
      ) : null}
      <OrderWords />
    </div>
  );
}

/** Classes may rest on invented limits also where the site itself is not called a demonstration. */
function OnDemonstration() {
  const { siteState, tables } = useWorkplace();
  const named = siteState?.tables ?? [];
  const known = [...bundledTables, ...tables.tables.map(({ table }) => table)];
  const rests = known.some((table) => named.includes(table.table) && isDemonstration(table));
  return rests && siteState?.demonstration !== true ? <DemonstrationLimits /> : null;
}

/** What the order rests on; own choices are called so. */
function OrderWords() {
  return (
    <details className={classes.order}>
      <summary>How this order is made</summary>
      <p>
        The worst class comes first; a held part in which something worse was found stands just below that
        class. Within a class points count: how near to or far beyond its limit a size lies, further parts as
        bad as the worst, the energy in the air, and an inspector who called something milder. A point weighs
        as much as a week of waiting. These weights are our own choice.
      </p>
      <p>
        Stored energy is that of isentropic expansion (ASME PCC-2, article 501) of the air in the tyre at its
        recommended pressure. The volume is our own rough estimate from the size designation, ± 25 %; a size
        that is not understood counts as very large. It serves to compare wheels, not to stand at a distance.
      </p>
    </details>
  );
}

function countWords(lines: readonly Line[] | null, more: boolean): string {
  if (lines === null || lines.length === 0) return '';
  return `${more ? 'The first ' : ''}${lines.length}, the most dangerous first`;
}

function Nothing({ asked, onAsk }: { asked: Asked; onAsk: (asked: Asked) => void }) {
  if (narrowing(asked) === 0) return <Empty>{EMPTY_WORDS[asked.status]}</Empty>;
  return (
    <div className={classes.nothing}>
      <Empty>No inspection fits all of these filters.</Empty>
      <Button onClick={() => onAsk({ ...WAITING, status: asked.status })}>Clear filters</Button>
    </div>
  );
}
