'use client';
import { useCallback, useEffect, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import type { Result } from '../../../lib/rules/index.ts';
import { usePeople } from '../../_client/people.ts';
import { call } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Choice, Empty, ProblemNote, VerdictCounts, When } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { problemOf } from '../SignIn.tsx';
import classes from './review.module.css';

interface Line {
  readonly id: string;
  readonly wheel: string;
  readonly tag: string;
  readonly status: string;
  readonly inspector: string;
  readonly submittedAt: string | null;
  readonly concludedAt: string | null;
  readonly body: {
    readonly reason?: string;
    readonly results?: readonly { readonly slot: string; readonly result: Result }[];
    readonly photos?: number;
    readonly readings?: number;
    readonly late?: number;
    readonly inspectors?: readonly string[];
  };
}

type Shown = 'submitted' | 'reopened' | 'sent back' | 'concluded';
const WORDS: Readonly<Record<Shown, string>> = {
  submitted: 'Waiting for review',
  reopened: 'New evidence since review',
  'sent back': 'Sent back',
  concluded: 'Reviewed',
};

/** Inspections by what could hurt first. */
export function Queue() {
  return (
    <Frame title="Waiting for review" back={{ href: '/', label: 'start' }} wide>
      <Lines />
    </Frame>
  );
}

function Lines() {
  const { site, me, register } = useWorkplace();
  const people = usePeople();
  const [shown, setShown] = useState<Shown>('submitted');
  const [lines, setLines] = useState<readonly Line[] | null>(null);
  const [cursor, setCursor] = useState<string | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const fetch = useCallback(
    async (after: string | null) => {
      try {
        const page = await call<{ inspections: Line[]; cursor: string | null }>(
          'GET',
          `/api/v1/queue?site=${site.id}&status=${encodeURIComponent(shown)}${after === null ? '' : `&cursor=${encodeURIComponent(after)}`}`,
        );
        setLines((before) => (after === null ? page.inspections : [...(before ?? []), ...page.inspections]));
        setCursor(page.cursor);
        setWrong(null);
      } catch (error) {
        setWrong(problemOf(error));
      }
    },
    [site.id, shown],
  );
  useEffect(() => {
    setLines(null);
    void fetch(null);
  }, [fetch]);
  return (
    <div className={classes.queue}>
      <Choice
        legend="Show"
        options={['submitted', 'reopened', 'sent back', 'concluded']}
        words={WORDS}
        value={shown}
        onChoose={setShown}
      />
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Card title={WORDS[shown]}>
        {lines === null && wrong === null ? <p>Fetching …</p> : null}
        {lines?.length === 0 ? (
          <Empty>Nothing here. Inspections appear as soon as they are submitted and have arrived.</Empty>
        ) : null}
        <ul className={list.list}>
          {(lines ?? []).map((line) => {
            const wheel = register.wheels.get(line.wheel);
            const own = line.body.inspectors?.includes(me.person.id) === true;
            return (
              <li key={line.id}>
                <a className={list.row} href={`/review?id=${line.id}`}>
                  <span className={list.main}>
                    <b className={list.tag}>{wheel?.tag ?? line.tag}</b>{' '}
                    {wheel === undefined ? '' : `${wheel.machine} ${wheel.position}`}
                    <small>
                      {line.body.reason}; {people.get(line.inspector) ?? 'someone'}
                      {line.submittedAt === null ? '' : ', '}
                      {line.submittedAt === null ? null : <When at={line.submittedAt} />};{' '}
                      {line.body.photos ?? 0} photos, {line.body.readings ?? 0} readings
                      {own ? '. Your own work: somebody else reviews it' : ''}
                    </small>
                  </span>
                  <span className={classes.results}>
                    <VerdictCounts results={(line.body.results ?? []).map((part) => part.result)} />
                  </span>
                </a>
              </li>
            );
          })}
        </ul>
        {cursor === null ? null : (
          <Button block onClick={() => void fetch(cursor)}>
            More
          </Button>
        )}
      </Card>
    </div>
  );
}
