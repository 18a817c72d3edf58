'use client';
import { type FormEvent, useState } from 'react';
import { kinds } from '../../../lib/record/index.ts';
import { bundledTables, isDemonstration, type Table } from '../../../lib/tolerances/index.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Empty, Field } from '../../_ui/kit.tsx';
import inspect from '../inspect/inspect.module.css';
import { InstrumentCard } from './InstrumentCard.tsx';
import { PolicyCard } from './PolicyCard.tsx';
import { WheelCard } from './WheelCard.tsx';

/** What a lead keeps: the site with the tables in force, its wheels, its instruments. */
export function SiteManager() {
  return (
    <Frame title="Site" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

function Body() {
  const { has, site, siteState, register } = useWorkplace();
  if (!has('lead')) return <Empty>This page is for the lead of the site.</Empty>;
  return (
    <>
      <Tables key={JSON.stringify([site.id, siteState])} />
      <PolicyCard key={JSON.stringify(['interval', site.id, register.policies.get(site.id)])} />
      <WheelCard />
      <InstrumentCard />
    </>
  );
}

/** Tables that may be put in force, each name once: those of the program, and those of which an edition was approved. */
function useChoices(): readonly Table[] {
  const { tables } = useWorkplace();
  const approved = tables.tables.filter((one) => one.state === 'approved').map((one) => one.table);
  return [...bundledTables, ...new Map(approved.map((table) => [table.table, table])).values()];
}

function Tables() {
  const { site, siteState, write } = useWorkplace();
  const choices = useChoices();
  const [name, setName] = useState(siteState?.name ?? site.name);
  const [tables, setTables] = useState<readonly string[]>(siteState?.tables ?? []);
  const [keepLocation, setKeepLocation] = useState(siteState?.keepLocation ?? false);
  const choose = (table: string, chosen: boolean) =>
    setTables(chosen ? [...tables, table] : tables.filter((one) => one !== table));
  const inForce = siteState?.tables ?? [];
  const unchanged =
    siteState !== undefined &&
    name === siteState.name &&
    keepLocation === siteState.keepLocation &&
    tables.length === inForce.length &&
    tables.every((table) => inForce.includes(table));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    void write(kinds.siteDescribed, site.id, {
      name,
      tables: [...tables],
      keepLocation,
      demonstration: siteState?.demonstration ?? false,
    });
  };
  return (
    <Card title="Limits in force">
      <form onSubmit={submit}>
        <Field label="Name of the site">
          <input required value={name} onChange={(event) => setName(event.target.value)} />
        </Field>
        {(siteState?.tables ?? [])
          .filter((name) => !choices.some((table) => table.table === name))
          .map((name) => (
            <label className={inspect.check} key={name}>
              <input
                type="checkbox"
                checked={tables.includes(name)}
                onChange={(event) => choose(name, event.target.checked)}
              />
              <span>
                <b>{name}</b>. No edition of it is approved: every part is held while it is named here.
              </span>
            </label>
          ))}
        {choices.map((table) => (
          <label className={inspect.check} key={table.table}>
            <input
              type="checkbox"
              checked={tables.includes(table.table)}
              onChange={(event) => choose(table.table, event.target.checked)}
            />
            <span>
              <b>{table.title}</b>
              {isDemonstration(table) ? ' (demonstration: not for real rims)' : ''}. Issued by{' '}
              {table.issuedBy};{' '}
              {bundledTables.includes(table) ? table.edition : 'the edition in effect counts'}.
            </span>
          </label>
        ))}
        <label className={inspect.check}>
          <input
            type="checkbox"
            checked={keepLocation}
            onChange={(event) => setKeepLocation(event.target.checked)}
          />
          Keep the place where a photo was taken in derived pictures
        </label>
        <p>
          Without a table there is no limit on file, and nothing can be kept. Drafts and editions are on the
          page <a href="/tables">Tolerance tables</a>.
        </p>
        <p role="status">{unchanged ? 'This is in force.' : 'Changed here, not in force yet.'}</p>
        <Button type="submit" tone="act" disabled={unchanged}>
          Put in force
        </Button>
      </form>
    </Card>
  );
}
