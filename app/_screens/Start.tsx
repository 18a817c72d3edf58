'use client';
import { type FormEvent, useCallback, useMemo, useState } from 'react';
import { type Problem, parseTag, problem } from '../../lib/base/index.ts';
import type { DeviceStore } from '../../lib/store/device/index.ts';
import { entriesUnsettled, inspectionsIn, useFetched } from '../_client/inspection.ts';
import { call, keepInspection } from '../_client/remote.ts';
import { useStored } from '../_client/useStored.ts';
import { useWorkplace } from '../_client/Workplace.tsx';
import { Frame } from '../_ui/Frame.tsx';
import { Button, Card, Empty, Field, LinkButton, ProblemNote, When } from '../_ui/kit.tsx';
import list from '../_ui/list.module.css';
import { byMachine } from '../_ui/machines.ts';
import classes from './Start.module.css';
import { StudiesForYou } from './studies/StudiesForYou.tsx';

export function Start() {
  return (
    <Frame title="Rimbook">
      <FindWheel />
      <Unfinished />
      <StudiesForYou />
      <ReviewLink />
      <Fleet />
    </Frame>
  );
}

function FindWheel() {
  const { register } = useWorkplace();
  const [typed, setTyped] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const tag = parseTag(typed);
    if (!tag.ok) {
      setWrong(tag.error);
      return;
    }
    const wheel = [...register.wheels.values()].find((one) => one.tag === tag.value);
    if (wheel === undefined) {
      setWrong(
        problem(
          'tag-unknown',
          'tag',
          tag.value,
          'No wheel of this site has this tag',
          'Check the site in the menu, or ask the lead to add the wheel.',
        ),
      );
      return;
    }
    window.location.assign(`/wheel?id=${wheel.id}`);
  };
  return (
    <form className={classes.find} onSubmit={submit}>
      <Field label="Wheel tag" hint="Six characters, stamped or on the tag plate">
        <input
          className={classes.tag}
          value={typed}
          onChange={(event) => {
            setTyped(event.target.value);
            setWrong(null);
          }}
          autoCapitalize="characters"
          autoComplete="off"
          spellCheck={false}
          placeholder="4K7-P3F"
          maxLength={12}
        />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button type="submit" tone="act" block>
        Open the wheel’s book
      </Button>
    </form>
  );
}

/** What waits for the inspector, in words. */
const UNFINISHED: Readonly<Record<string, string>> = {
  open: 'open',
  'sent back': 'sent back to you',
  asked: 'a question to you',
};

function Unfinished() {
  const { store, site, me, register } = useWorkplace();
  const read = useCallback(() => entriesUnsettled(store, site.id), [store, site.id]);
  const entries = useStored(store, read, []);
  const fetch = useCallback(
    () => fetchUnfinished(store, site.id, me.person.id),
    [store, site.id, me.person.id],
  );
  useFetched(fetch);
  const open = useMemo(
    () =>
      inspectionsIn(entries).filter(
        (one) => UNFINISHED[one.status] !== undefined && one.inspectors.includes(me.person.id),
      ),
    [entries, me.person.id],
  );
  if (open.length === 0) return null;
  return (
    <Card title="Your inspections to finish">
      <ul className={list.list}>
        {open.map((one) => {
          const wheel = one.wheel === null ? undefined : register.wheels.get(one.wheel);
          return (
            <li key={one.id}>
              <a className={list.row} href={`/inspect?id=${one.id}`}>
                <span className={list.main}>
                  <b>{wheel?.tag ?? 'Wheel not fetched yet'}</b>{' '}
                  {wheel === undefined ? '' : `${wheel.machine} ${wheel.position}`}
                  <small>
                    {one.opened === null ? null : <When at={one.opened.at} />}, {one.reason}
                  </small>
                </span>
                <span className={list.aside}>{UNFINISHED[one.status]}</span>
              </a>
            </li>
          );
        })}
      </ul>
    </Card>
  );
}

/** What was begun on another device, or sent back, comes to this one too. */
async function fetchUnfinished(store: DeviceStore, site: string, person: string): Promise<void> {
  for (const status of ['open', 'sent back', 'asked']) {
    const { inspections } = await call<{
      inspections: readonly {
        readonly id: string;
        readonly body: { readonly inspectors?: readonly string[] };
      }[];
    }>('GET', `/api/v1/queue?site=${site}&status=${encodeURIComponent(status)}&limit=200`);
    for (const { id, body } of inspections) {
      if (body.inspectors?.includes(person) === true) await keepInspection(store, site, id);
    }
  }
}

function ReviewLink() {
  const { has } = useWorkplace();
  if (!has('reviewer')) return null;
  return (
    <p>
      <LinkButton href="/queue" tone="act">
        Inspections waiting for review
      </LinkButton>
    </p>
  );
}

function Fleet() {
  const { register, has } = useWorkplace();
  const [filter, setFilter] = useState('');
  const wheels = useMemo(
    () =>
      [...register.wheels.values()].filter((wheel) =>
        `${wheel.tag} ${wheel.machine} ${wheel.position} ${wheel.designation}`
          .toLowerCase()
          .includes(filter.toLowerCase()),
      ),
    [register, filter],
  );
  return (
    <Card title={`Wheels (${register.wheels.size})`}>
      {register.wheels.size === 0 ? (
        <Empty>
          No wheel has been entered at this site yet.{' '}
          {has('lead') ? <a href="/site">Add the first one.</a> : 'The lead of the site adds them.'}
        </Empty>
      ) : (
        <>
          <Field label="Find by tag, machine, position or size">
            <input value={filter} onChange={(event) => setFilter(event.target.value)} />
          </Field>
          {byMachine(wheels.slice(0, 100)).map((group) => (
            <section key={group.machine} aria-label={group.machine || 'On no machine'}>
              <h3 className={list.group}>{group.machine || 'On no machine'}</h3>
              <ul className={list.list}>
                {group.wheels.map((wheel) => (
                  <li key={wheel.id}>
                    <a className={list.row} href={`/wheel?id=${wheel.id}`}>
                      <span className={list.main}>
                        <b className={list.tag}>{wheel.tag}</b> {wheel.position}
                        <small>
                          {wheel.designation}, {wheel.construction}
                        </small>
                      </span>
                    </a>
                  </li>
                ))}
              </ul>
            </section>
          ))}
          {wheels.length > 100 ? <p>{wheels.length - 100} more; type to narrow them down.</p> : null}
          {wheels.length === 0 ? <Empty>No wheel fits “{filter}”.</Empty> : null}
        </>
      )}
    </Card>
  );
}
