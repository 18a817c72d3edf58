'use client';
import { useMemo, useState } from 'react';
import { counted, type Problem } from '../../../lib/base/index.ts';
import { kinds } from '../../../lib/record/index.ts';
import { CLASSES, lookThrough, type Result } from '../../../lib/rules/index.ts';
import { now } from '../../_client/device.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, Field, ProblemNote, Verdict } from '../../_ui/kit.tsx';
import { type FleetConsequences, useConsequences } from './fleet.ts';
import { type ShownTable, useTablesInForce } from './shown.ts';
import classes from './tables.module.css';

const ORDER: readonly Result[] = [...CLASSES, 'hold'];

/** "keep → repair" with how often it happens, the most frequent first. */
function turnsOf({ changes }: FleetConsequences): { before: Result; after: Result; count: number }[] {
  const counts = new Map<string, { before: Result; after: Result; count: number }>();
  for (const { before, after } of changes.flatMap(({ consequences }) => consequences.changed)) {
    const key = `${before} ${after}`;
    counts.set(key, { before, after, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  return [...counts.values()].sort(
    (a, b) => b.count - a.count || ORDER.indexOf(b.after) - ORDER.indexOf(a.after),
  );
}

/** The whole fleet's latest evidence decided on again under a table, and what would change; then the approval. */
export function Consequences({ shown }: { shown: ShownTable }) {
  const inForce = useTablesInForce();
  const found = useConsequences(inForce, shown.table);
  const through = found.complete;
  const changed = found.changes.reduce((sum, { consequences }) => sum + consequences.changed.length, 0);
  const wheels = counted(found.done, 'wheel');
  const summary = `${changed} of ${found.parts} parts on ${wheels} would change`;
  return (
    <>
      <Card title="Preview of consequences">
        <p>
          <b>{shown.table.title}</b>, edition {shown.table.edition}. Every wheel’s last submission is decided
          on again, under the tables in force now
          {inForce.length === 0 ? ' (none)' : ` (${inForce.map((one) => one.table).join('; ')})`} and with
          this table {inForce.some((one) => one.table === shown.table.table) ? 'in place of' : 'beside'}{' '}
          {inForce.some((one) => one.table === shown.table.table) ? 'its edition in force' : 'them'}. No
          verdict that was given changes.
        </p>
        {found.problem === null ? null : (
          <>
            <ProblemNote problem={found.problem} />
            <Button onClick={found.again}>Try again</Button>
          </>
        )}
        {through ? null : (
          <>
            <progress className={classes.progress} />
            <p>Going through the fleet: {wheels} …</p>
          </>
        )}
        <p aria-live="polite">
          <b>{summary}.</b>{' '}
          {found.unreadable > 0 ? `${found.unreadable} submissions cannot be read by this version.` : ''}
        </p>
        <ul className={classes.counts}>
          {turnsOf(found).map(({ before, after, count }) => (
            <li key={`${before} ${after}`}>
              <b>{count} ×</b>
              <Turn before={before} after={after} />
            </li>
          ))}
        </ul>
      </Card>
      <Approval shown={shown} ready={through} summary={summary} />
      <Changes found={found} through={through} />
    </>
  );
}

function Turn({ before, after }: { before: Result; after: Result }) {
  return (
    <span className={classes.turn}>
      <Verdict result={before} />
      <span role="img" aria-label="becomes">
        →
      </span>
      <Verdict result={after} />
    </span>
  );
}

function Changes({ found, through }: { found: FleetConsequences; through: boolean }) {
  const { register } = useWorkplace();
  if (through && found.changes.length === 0) {
    return <Empty>No part of any wheel would get another verdict.</Empty>;
  }
  return (
    <Card title={`Wheels (${found.changes.length})`}>
      {found.changes.map(({ wheel, evidence, consequences }) => {
        const known = register.wheels.get(wheel);
        return (
          <section className={classes.change} key={wheel}>
            <a href={`/wheel?id=${wheel}`}>
              <b>{known?.tag ?? evidence.wheel.tag}</b> {known?.machine} {known?.position}
            </a>
            {consequences.fit.before === consequences.fit.after
              ? ''
              : consequences.fit.after
                ? ' · the set may then go together'
                : ' · the set may then no longer go together'}
            {consequences.changed.map((one) => (
              <div key={one.slot}>
                <span className={classes.turn}>
                  {one.slot}: <Turn before={one.before} after={one.after} />
                </span>
                <ul>
                  {one.why.map((sentence) => (
                    <li key={sentence}>{sentence}</li>
                  ))}
                </ul>
              </div>
            ))}
          </section>
        );
      })}
    </Card>
  );
}

/** A second person's approval, given with the consequences in sight. */
function Approval({ shown, ready, summary }: { shown: ShownTable; ready: boolean; summary: string }) {
  const { me, has, write, exchange, store } = useWorkplace();
  const place = usePlace();
  const [note, setNote] = useState('');
  const [wrong, setWrong] = useState<Problem | null>(null);
  const { table } = shown;
  const errors = useMemo(
    () => lookThrough(table).filter(({ severity }) => severity === 'error').length,
    [table],
  );
  if (shown.standing !== 'draft' || shown.onFile === null) return null;
  if (!has('lead') && !has('reviewer')) return null;
  if (shown.onFile.drafts.some((draft) => draft.author === me.person.id)) {
    return <Caution kind="note">You wrote this draft: another lead or a reviewer approves it.</Caution>;
  }
  const approve = async () => {
    const entry = await write(kinds.tableApproved, shown.key, {
      hash: shown.hash,
      note: [`${summary}.`, note].filter((part) => part !== '').join(' '),
    });
    await exchange();
    const left = (await store.outbox()).find((item) => item.id === entry.id);
    if (left?.problem) setWrong(left.problem);
    else place.go({ show: null });
  };
  return (
    <Card title="Approve">
      <Caution>
        An approved edition never changes. It takes effect{' '}
        {table.effectiveFrom > now().slice(0, 10) ? `on ${table.effectiveFrom}` : 'at once'}, where the site
        names it among its limits in force.
      </Caution>
      {errors === 0 ? null : (
        <Caution kind="note">
          It has {counted(errors, 'error')}, shown beside the rows: the lead puts them right first.
        </Caution>
      )}
      <Field label="Remark" hint="What was seen of the consequences is written down with it">
        <input maxLength={300} value={note} onChange={(event) => setNote(event.target.value)} />
      </Field>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <Button tone="act" disabled={!ready || errors > 0} onClick={() => void approve()}>
        Approve this edition
      </Button>
      {ready ? null : <p>Possible when the whole fleet has been gone through.</p>}
    </Card>
  );
}
