import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';
import { verifyPassword } from './hashing.ts';
import { addSite, type Membership, type Role, setRoles, sitesOf } from './sites.ts';

/** Name of the administrator role in the accounts library. */
export const ADMINISTRATOR = 'admin';

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly administrator: boolean;
  readonly disabled: boolean;
  readonly sites: readonly Membership[];
}

export interface NewPerson {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly administrator: boolean;
  /** From `Accounts.hash`; the password itself never comes here. */
  readonly passwordHash: string;
  readonly roles: ReadonlyArray<{ readonly site: string; readonly roles: readonly Role[] }>;
  /** Server clock, ISO 8601 in UTC. */
  readonly now: string;
}

/** Whether nobody has an account yet. */
export function isFirstRun(store: Store): boolean {
  return store.first(store.build.selectFrom('user').select('id').limit(1)) === undefined;
}

/** Whether an account has this e-mail address, upper and lower case alike. */
export function isAccountEmail(store: Store, email: string): boolean {
  const found = store.first(
    store.build.selectFrom('user').select('id').where('email', '=', email.toLowerCase()),
  );
  return found !== undefined;
}

/** Makes a person with a password and roles, all or nothing; fails when the address is taken or a site unknown. */
export function addPerson(store: Store, person: NewPerson): Result<void, Problem> {
  return store.transaction(() => {
    const email = person.email.toLowerCase();
    if (isAccountEmail(store, email)) {
      return fail(
        problem(
          'email-taken',
          'email',
          email,
          'There is an account with this e-mail address',
          'Use another address, or give the existing account its roles.',
        ),
      );
    }
    for (const { site } of person.roles) {
      const known = store.first(store.build.selectFrom('site').select('id').where('id', '=', site));
      if (known === undefined) return fail(siteUnknown(site));
    }
    insertAccount(store, person, email);
    for (const { site, roles } of person.roles) setRoles(store, person.id, site, roles);
    return ok(undefined);
  });
}

/** The first site and its first person, only while there is nobody: of two at once, one succeeds. */
export function addFirstPerson(
  store: Store,
  person: Omit<NewPerson, 'administrator' | 'roles'>,
  site: { readonly id: string; readonly name: string },
): Result<void, Problem> {
  return store.transaction(() => {
    if (!isFirstRun(store)) {
      return fail(
        problem(
          'first-run-done',
          '',
          '',
          'This installation already has its first person',
          'Sign in, or ask the administrator for an account.',
        ),
      );
    }
    const made = addSite(store, { ...site, keepLocation: false, now: person.now });
    if (!made.ok) return made;
    const roles = [{ site: site.id, roles: ['inspector', 'reviewer', 'lead'] as const }];
    return addPerson(store, { ...person, administrator: true, roles });
  });
}

function insertAccount(store: Store, person: NewPerson, email: string): void {
  store.run(
    store.build.insertInto('user').values({
      id: person.id,
      name: person.name,
      email,
      emailVerified: 1,
      createdAt: person.now,
      updatedAt: person.now,
      role: person.administrator ? ADMINISTRATOR : 'user',
      banned: 0,
      banReason: null,
    }),
  );
  store.run(
    store.build.insertInto('account').values({
      id: `${person.id}-password`,
      accountId: person.id,
      providerId: 'credential',
      userId: person.id,
      password: person.passwordHash,
      createdAt: person.now,
      updatedAt: person.now,
    }),
  );
}

/** Every person, by name, with sites and roles. */
export function listPeople(store: Store): Person[] {
  return store.all(store.build.selectFrom('user').selectAll().orderBy('name').orderBy('id')).map((row) => ({
    id: row.id,
    name: row.name,
    email: row.email,
    administrator: row.role === ADMINISTRATOR,
    disabled: row.banned === 1,
    sites: sitesOf(store, row.id),
  }));
}

/** One person, or undefined. */
export function findPerson(store: Store, id: string): Person | undefined {
  return listPeople(store).find((person) => person.id === id);
}

/** Names and roles of everyone at a site, by name. */
export function listMembers(store: Store, site: string): Array<{ id: string; name: string; roles: Role[] }> {
  const rows = store.all(
    store.build
      .selectFrom('membership')
      .innerJoin('user', 'user.id', 'membership.person')
      .select(['user.id as id', 'user.name as name', 'membership.role as role'])
      .where('membership.site', '=', site)
      .orderBy('user.name')
      .orderBy('user.id')
      .orderBy('membership.role'),
  );
  return [...new Map(rows.map((row) => [row.id, row.name]))].map(([id, name]) => ({
    id,
    name,
    roles: rows.filter((row) => row.id === id).map((row) => row.role as Role),
  }));
}

/** Whether this is the person's password; false for somebody without one. */
export async function passwordFits(store: Store, person: string, password: string): Promise<boolean> {
  const account = store.first(
    store.build
      .selectFrom('account')
      .select('password')
      .where('userId', '=', person)
      .where('providerId', '=', 'credential'),
  );
  const hash = account?.password;
  return typeof hash === 'string' && (await verifyPassword({ hash, password }));
}

/** Sets a new password and ends every session of the person. */
export function setPassword(store: Store, person: string, passwordHash: string, now: string): void {
  store.transaction(() => {
    store.run(
      store.build
        .updateTable('account')
        .set({ password: passwordHash, updatedAt: now })
        .where('userId', '=', person)
        .where('providerId', '=', 'credential'),
    );
    store.run(store.build.deleteFrom('session').where('userId', '=', person));
  });
}

/** Closes an account (its sessions end at once) or opens it again; the record of the person's work stays. */
export function setDisabled(store: Store, person: string, disabled: boolean, now: string): void {
  store.transaction(() => {
    store.run(
      store.build
        .updateTable('user')
        .set({ banned: disabled ? 1 : 0, updatedAt: now })
        .where('id', '=', person),
    );
    if (disabled) store.run(store.build.deleteFrom('session').where('userId', '=', person));
  });
}

/** The problem of a site that is not known, or not to this person: both read the same. */
export function siteUnknown(site: string): Problem {
  return problem(
    'site-unknown',
    'site',
    site,
    'There is no such site for you',
    'Choose one of your sites, or ask the administrator for a role there.',
  );
}
