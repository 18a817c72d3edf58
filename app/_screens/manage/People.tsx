'use client';
import { type FormEvent, useCallback, useEffect, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { call, type RoleName } from '../../_client/remote.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import { Frame } from '../../_ui/Frame.tsx';
import { Button, Card, Empty, Field, ProblemNote } from '../../_ui/kit.tsx';
import list from '../../_ui/list.module.css';
import inspect from '../inspect/inspect.module.css';
import { problemOf } from '../SignIn.tsx';

interface Person {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly administrator: boolean;
  readonly disabled: boolean;
  readonly sites: readonly {
    readonly id: string;
    readonly name: string;
    readonly roles: readonly RoleName[];
  }[];
}
interface Site {
  readonly id: string;
  readonly name: string;
}
const ROLES: readonly RoleName[] = ['inspector', 'reviewer', 'lead'];

/** Accounts, their roles at sites, and the sites themselves; for administrators. */
export function People() {
  return (
    <Frame title="People" back={{ href: '/', label: 'start' }}>
      <Body />
    </Frame>
  );
}

function Body() {
  const { me } = useWorkplace();
  const [people, setPeople] = useState<readonly Person[] | null>(null);
  const [sites, setSites] = useState<readonly Site[]>([]);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const load = useCallback(async () => {
    try {
      const [found, all] = await Promise.all([
        call<{ people: Person[] }>('GET', '/api/v1/people'),
        call<{ sites: Site[] }>('GET', '/api/v1/sites'),
      ]);
      setPeople(found.people);
      setSites(all.sites);
    } catch (error) {
      setWrong(problemOf(error));
    }
  }, []);
  useEffect(() => {
    if (me.person.administrator) void load();
  }, [me, load]);
  if (!me.person.administrator) return <Empty>This page is for the administrator.</Empty>;
  const act = async (method: string, path: string, body: unknown) => {
    try {
      await call(method, path, body);
      setWrong(null);
      await load();
    } catch (error) {
      setWrong(problemOf(error));
    }
  };
  return (
    <>
      {wrong === null ? null : <ProblemNote problem={wrong} />}
      <AddPerson sites={sites} onAdd={(body) => act('POST', '/api/v1/people', body)} />
      <Card title={`People (${people?.length ?? 0})`}>
        {(people ?? []).map((person) => (
          <PersonCard
            key={person.id}
            person={person}
            sites={sites}
            self={person.id === me.person.id}
            act={act}
          />
        ))}
      </Card>
      <AddSite sites={sites} onAdd={(name) => act('POST', '/api/v1/sites', { name })} />
    </>
  );
}

type Act = (method: string, path: string, body: unknown) => Promise<void>;

function PersonCard({
  person,
  sites,
  self,
  act,
}: {
  person: Person;
  sites: readonly Site[];
  self: boolean;
  act: Act;
}) {
  const [password, setPassword] = useState('');
  const rolesAt = (site: string) => person.sites.find((one) => one.id === site)?.roles ?? [];
  const toggle = (site: string, role: RoleName, on: boolean) =>
    act('PUT', `/api/v1/people/${person.id}/roles`, {
      site,
      roles: on ? [...rolesAt(site), role] : rolesAt(site).filter((one) => one !== role),
    });
  return (
    <details className={inspect.reading}>
      <summary className={list.row}>
        <span className={list.main}>
          <b>{person.name}</b>
          <small>
            {person.email}
            {person.administrator ? ', administrator' : ''}
            {person.disabled ? ', closed' : ''};{' '}
            {person.sites.map((site) => `${site.name}: ${site.roles.join(', ')}`).join('; ') || 'no site'}
          </small>
        </span>
      </summary>
      {sites.map((site) => (
        <fieldset key={site.id} className={inspect.zoneChoice}>
          <legend>{site.name}</legend>
          {ROLES.map((role) => (
            <label className={inspect.check} key={role}>
              <input
                type="checkbox"
                checked={rolesAt(site.id).includes(role)}
                onChange={(event) => void toggle(site.id, role, event.target.checked)}
              />
              {role}
            </label>
          ))}
        </fieldset>
      ))}
      <Field label="New password" hint="At least 12 characters; ends all sessions of the person">
        <input
          type="password"
          autoComplete="new-password"
          value={password}
          onChange={(event) => setPassword(event.target.value)}
        />
      </Field>
      <div className={inspect.tools}>
        <Button
          disabled={password === ''}
          onClick={() =>
            void act('POST', `/api/v1/people/${person.id}/password`, { password }).then(() => setPassword(''))
          }
        >
          Set the password
        </Button>
        {self ? null : (
          <Button
            tone="grave"
            onClick={() =>
              void act('POST', `/api/v1/people/${person.id}/disabled`, { disabled: !person.disabled })
            }
          >
            {person.disabled ? 'Open the account again' : 'Close the account'}
          </Button>
        )}
      </div>
    </details>
  );
}

function AddPerson({ sites, onAdd }: { sites: readonly Site[]; onAdd(body: unknown): Promise<void> }) {
  const blank = {
    name: '',
    email: '',
    password: '',
    site: '',
    role: 'inspector' as RoleName,
    administrator: false,
  };
  const [values, setValues] = useState(blank);
  const site = values.site === '' ? sites[0]?.id : values.site;
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    const { name, email, password, administrator, role } = values;
    await onAdd({
      name,
      email,
      password,
      administrator,
      roles: site === undefined ? [] : [{ site, roles: [role] }],
    });
    setValues({ ...blank, site: values.site });
  };
  return (
    <Card title="Add a person">
      <form onSubmit={submit}>
        <Field label="Name">
          <input
            required
            value={values.name}
            onChange={(event) => setValues({ ...values, name: event.target.value })}
          />
        </Field>
        <Field label="E-mail">
          <input
            required
            type="email"
            value={values.email}
            onChange={(event) => setValues({ ...values, email: event.target.value })}
          />
        </Field>
        <Field label="Password" hint="At least 12 characters, and not the e-mail">
          <input
            required
            type="password"
            autoComplete="new-password"
            value={values.password}
            onChange={(event) => setValues({ ...values, password: event.target.value })}
          />
        </Field>
        <Field label="Site">
          <select value={site ?? ''} onChange={(event) => setValues({ ...values, site: event.target.value })}>
            {sites.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </Field>
        <Field label="Role there">
          <select
            value={values.role}
            onChange={(event) => setValues({ ...values, role: event.target.value as RoleName })}
          >
            {ROLES.map((role) => (
              <option key={role}>{role}</option>
            ))}
          </select>
        </Field>
        <label className={inspect.check}>
          <input
            type="checkbox"
            checked={values.administrator}
            onChange={(event) => setValues({ ...values, administrator: event.target.checked })}
          />
          Administrator: looks after people and sites
        </label>
        <Button type="submit" tone="act">
          Add the person
        </Button>
      </form>
    </Card>
  );
}

function AddSite({ sites, onAdd }: { sites: readonly Site[]; onAdd(name: string): Promise<void> }) {
  const [name, setName] = useState('');
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    await onAdd(name);
    setName('');
  };
  return (
    <Card title={`Sites (${sites.length})`}>
      <ul>
        {sites.map((site) => (
          <li key={site.id}>{site.name}</li>
        ))}
      </ul>
      <form onSubmit={submit}>
        <Field label="Name of a new site">
          <input required value={name} onChange={(event) => setName(event.target.value)} />
        </Field>
        <Button type="submit">Add the site</Button>
      </form>
    </Card>
  );
}
