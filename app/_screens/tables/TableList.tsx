'use client';
import { counted } from '../../../lib/base/index.ts';
import { isDemonstration } from '../../../lib/tolerances/index.ts';
import { now } from '../../_client/device.ts';
import { usePlace } from '../../_client/place.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Button, Card, Caution, Empty, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import { BringIn } from './BringIn.tsx';
import { type ShownTable, standingText, useShownTables, useWithout } from './shown.ts';
import classes from './tables.module.css';
import { useWorkingCopies } from './workingCopy.ts';

/** All tables: those verdicts rest on, those that wait for a second person, and the rest. */
export function TableList() {
  const { has, siteState, tables } = useWorkplace();
  const place = usePlace();
  const shown = useShownTables();
  const copies = useWorkingCopies();
  const without = useWithout();
  const used = shown.filter((one) => one.used);
  const drafts = shown.filter((one) => one.standing === 'draft');
  const others = shown.filter((one) => !used.includes(one) && !drafts.includes(one));
  const begun = copies.list;
  return (
    <>
      <Caution kind="must">
        Limits belong to whoever is entitled to set them: the maker of the part, the site, a regulation. A
        limit without its source is nobody’s limit.
      </Caution>
      <Card title="In force at this site">
        {used.length === 0 ? (
          <Empty>No table is in force: there is no limit on file, and nothing can be kept.</Empty>
        ) : (
          <Lines tables={used} />
        )}
        {has('lead') ? (
          <p>
            <a href="/site">Choose which tables are in force</a>
          </p>
        ) : null}
        {(siteState?.tables ?? [])
          .filter((name) => !used.some((one) => one.table.table === name))
          .map((name) => (
            <p key={name} className={`${classes.lint} ${classes.error}`}>
              <b>{name}</b> is named among the limits in force, and no edition of it is in effect
              {without.includes(name) ? ': every part is held until one is' : ' yet'}.
            </p>
          ))}
      </Card>
      <Card title={`Drafts (${drafts.length})`}>
        {drafts.length + begun.length === 0 ? <Empty>No draft waits.</Empty> : <Lines tables={drafts} />}
        <ul className={list.list}>
          {begun.map((copy) => (
            <li key={copy.id}>
              <button
                type="button"
                className={list.row}
                onClick={() => place.go({ table: copy.id, show: 'change' })}
              >
                <span className={list.main}>
                  <b>{copy.title || 'Untitled table'}</b>
                  <small>
                    {shown.some((one) => one.key === copy.id)
                      ? 'changes typed on this device, not entered yet'
                      : 'begun on this device, not entered yet'}
                  </small>
                </span>
              </button>
            </li>
          ))}
        </ul>
        {has('lead') ? (
          <div className={classes.actions}>
            <Button onClick={() => void copies.begin(null)}>Begin an empty table</Button>
            <BringIn />
          </div>
        ) : null}
      </Card>
      <Card title={`Other tables (${others.length})`}>
        {others.length === 0 ? <Empty>No other table.</Empty> : <Lines tables={others} />}
      </Card>
      {tables.unreadable.map((one) => (
        <ProblemNote
          key={one.id}
          problem={{
            code: 'table-unreadable',
            field: one.names.join(', '),
            value: one.problems.map((problem) => problem.field).join(', '),
            message: 'A table in the record cannot be read by this version',
            wayOut: 'Load the page again with a connection; until then nothing under it is kept.',
          }}
        />
      ))}
    </>
  );
}

function Lines({ tables }: { tables: readonly ShownTable[] }) {
  const place = usePlace();
  return (
    <ul className={list.list}>
      {tables.map((one) => (
        <li key={one.key}>
          <button type="button" className={list.row} onClick={() => place.go({ table: one.key, show: null })}>
            <span className={list.main}>
              <b>{one.table.title}</b>
              <small>
                {one.table.table}, edition {one.table.edition}; issued by {one.table.issuedBy};{' '}
                {counted(one.table.rows.length, 'row')}
                {isDemonstration(one.table) ? '; demonstration: not for real rims' : ''}
              </small>
              <small>
                <b>{standingText(one, now())}</b>
              </small>
            </span>
            <span aria-hidden="true">›</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
