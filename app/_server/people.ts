import { randomUUID } from 'node:crypto';
import { fail, must, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import {
  addFirstPerson,
  addPerson,
  checkPassword,
  findPerson,
  isFirstRun,
  type Person,
  type Role,
  setPassword,
} from '../../lib/store/server/index.ts';
import { hashingBusy } from './attempts.ts';
import type { ServerContext } from './context.ts';
import { type Refusal, refuse } from './problems.ts';

/** Problems that mean "in conflict with what is stored". */
const CONFLICTS = ['email-taken', 'first-run-done', 'site-name-taken'];

function refusal(why: Problem): Refusal {
  return refuse(CONFLICTS.includes(why.code) ? 409 : 422, why);
}

function hashed(context: ServerContext, password: string): Promise<string> {
  return context.hashing.run(() => context.accounts.hash(password));
}

/** Makes the first site and its first person, an administrator with every role there. */
export async function makeFirstPerson(
  context: ServerContext,
  given: {
    readonly name: string;
    readonly email: string;
    readonly password: string;
    readonly siteName: string;
  },
) {
  const allowed = checkPassword(given.password, given.email);
  if (!allowed.ok) return fail(refusal(allowed.error));
  // Hashing is slow on purpose: not for everyone who calls this after the first run.
  if (!isFirstRun(context.store)) return fail(refuse(409, firstRunDone()));
  const site = { id: randomUUID(), name: given.siteName };
  const person = { id: randomUUID(), name: given.name, email: given.email };
  if (context.hashing.full) return fail(hashingBusy());
  const passwordHash = await hashed(context, given.password);
  const made = addFirstPerson(context.store, { ...person, passwordHash, now: context.now() }, site);
  if (!made.ok) return fail(refusal(made.error));
  return ok({ person: { id: person.id }, site: { ...site, keepLocation: false } });
}

function firstRunDone(): Problem {
  return problem(
    'first-run-done',
    '',
    '',
    'This installation already has its first person',
    'Sign in, or ask the administrator for an account.',
  );
}

/** Makes a person with a password that keeps the rules. */
export async function makePerson(
  context: ServerContext,
  given: {
    readonly name: string;
    readonly email: string;
    readonly password: string;
    readonly administrator: boolean;
    readonly roles: ReadonlyArray<{ readonly site: string; readonly roles: readonly Role[] }>;
  },
): Promise<Result<Person, Refusal>> {
  const { password, ...rest } = given;
  const allowed = checkPassword(password, given.email);
  if (!allowed.ok) return fail(refusal(allowed.error));
  const id = randomUUID();
  const passwordHash = await hashed(context, password);
  const made = addPerson(context.store, { ...rest, id, passwordHash, now: context.now() });
  if (!made.ok) return fail(refusal(made.error));
  return ok(must(findPerson(context.store, id), 'the person just made'));
}

/** Gives a person a new password that keeps the rules; every session of the person ends. */
export async function replacePassword(
  context: ServerContext,
  person: Person,
  password: string,
): Promise<Result<void, Refusal>> {
  const allowed = checkPassword(password, person.email);
  if (!allowed.ok) return fail(refusal(allowed.error));
  setPassword(context.store, person.id, await hashed(context, password), context.now());
  return ok(undefined);
}
