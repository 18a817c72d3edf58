'use client';
import { useMemo, useState } from 'react';
import { kinds } from '../../../lib/record/index.ts';
import { lookThrough, scopeText } from '../../../lib/rules/index.ts';
import { isDemonstration, tableToCsv } from '../../../lib/tolerances/index.ts';
import { showNumber } from '../../../lib/units/index.ts';
import { now } from '../../_client/device.ts';
import { usePeople } from '../../_client/people.ts';
import { usePlace } from '../../_client/place.ts';
import { saveFile } from '../../_client/saveFile.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Field, When } from '../../_ui/kit.tsx';
import { useFleet, useReadings } from './fleet.ts';
import { type ShownTable, standingText } from './shown.ts';
import { TableRows } from './TableRows.tsx';
import classes from './tables.module.css';
import { useWorkingCopies } from './workingCopy.ts';

/** One table: what it is, what may be done with it, and its rows with the fleet's readings on them. */
export function TablePage({ shown }: { shown: ShownTable }) {
  const { table } = shown;
  const lint = useMemo(() => lookThrough(table), [table]);
  const fleet = useFleet();
  const readings = useReadings(fleet, table);
  return (
    <>
      <Card title={table.title}>
        <p>
          <span className={classes.standing}>{standingText(shown, now())}</span>
        </p>
        {isDemonstration(table) ? (
          <Caution kind="note">Demonstration: invented limits, not for real rims.</Caution>
        ) : null}
        <dl className={classes.facts}>
          <dt>Name</dt>
          <dd>{table.table}</dd>
          <dt>Edition</dt>
          <dd>{table.edition}</dd>
          <dt>Issued by</dt>
          <dd>{table.issuedBy}</dd>
          <dt>Speaks of</dt>
          <dd>{scopeText(table)}</dd>
          <dt>Decision</dt>
          <dd>
            {table.decision.rule === 'guarded'
              ? `guarded: at most ${showNumber(table.decision.risk * 100, 1)} % risk that the truth is worse`
              : 'simple acceptance: the reading against the limit'}
          </dd>
          <dt>Content</dt>
          <dd>SHA-256 {shown.hash.slice(0, 16)}…</dd>
        </dl>
        <Actions shown={shown} />
      </Card>
      {shown.onFile === null ? null : <History shown={shown} />}
      <TableRows table={table} lint={lint} readings={readings} />
    </>
  );
}

function Actions({ shown }: { shown: ShownTable }) {
  const { has } = useWorkplace();
  const place = usePlace();
  const copies = useWorkingCopies();
  const { table, standing } = shown;
  const name = `${table.table} ${table.edition}`.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase();
  return (
    <>
      <div className={classes.actions}>
        {standing === 'draft' && has('lead') ? (
          <Button onClick={() => place.go({ show: 'change' })}>Change the draft</Button>
        ) : null}
        {standing === 'draft' || standing === 'approved' ? (
          <Button
            tone={standing === 'draft' ? 'act' : 'plain'}
            onClick={() => place.go({ show: 'consequences' })}
          >
            Preview of consequences
          </Button>
        ) : null}
        {has('lead') && standing !== 'draft' ? (
          <Button onClick={() => void copies.begin(shown)}>New edition from this</Button>
        ) : null}
        <Button onClick={() => saveFile(`${name}.csv`, 'text/csv', tableToCsv(table))}>Save as CSV</Button>
        <Button
          onClick={() => saveFile(`${name}.json`, 'application/json', `${JSON.stringify(table, null, 2)}\n`)}
        >
          Save as JSON
        </Button>
      </div>
      {has('lead') && (standing === 'draft' || standing === 'approved') ? (
        <WithdrawTable shown={shown} />
      ) : null}
    </>
  );
}

/** Takes a table out of use, on a second, explicit step with a reason. */
function WithdrawTable({ shown }: { shown: ShownTable }) {
  const { write } = useWorkplace();
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  const what = shown.standing === 'draft' ? 'Drop this draft' : 'Withdraw this edition';
  if (!open) return <Button onClick={() => setOpen(true)}>{what} …</Button>;
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (reason.trim() !== '') void write(kinds.tableWithdrawn, shown.key, { reason });
      }}
    >
      {shown.used ? (
        <Caution>
          From now on every part at this site is held until another edition of it is approved, or it is taken
          off the limits in force on the page Site: an earlier edition does not come back by itself. Verdicts
          already given stay as they are.
        </Caution>
      ) : null}
      <Field label="Reason">
        <input required maxLength={500} value={reason} onChange={(event) => setReason(event.target.value)} />
      </Field>
      <div className={classes.actions}>
        <Button type="submit" tone="grave" disabled={reason.trim() === ''}>
          {what}
        </Button>
        <Button onClick={() => setOpen(false)}>Leave it</Button>
      </div>
    </form>
  );
}

/** Who wrote, approved and withdrew it, and when. */
function History({ shown }: { shown: ShownTable }) {
  const people = usePeople();
  const { onFile } = shown;
  if (onFile === null) return null;
  const { drafts, approved, withdrawn } = onFile;
  const lines = [
    ...drafts.map((one) => ({ ...one, what: 'written' })),
    ...(approved === null ? [] : [{ ...approved, what: 'approved' }]),
    ...(withdrawn === null ? [] : [{ ...withdrawn, what: 'withdrawn' }]),
  ];
  return (
    <Card title="Who and when">
      <ul className={classes.problems}>
        {lines.map((line) => (
          <li key={`${line.what}${line.at}`}>
            <b>{line.what}</b> by {people.get(line.author) ?? 'someone'}, <When at={line.at} />
            {line.note === '' ? '' : `: ${line.note}`}
          </li>
        ))}
      </ul>
    </Card>
  );
}
