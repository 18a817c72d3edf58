import { fail, ok, type Problem, problem, type Result } from '../base/index.ts';
import { type Entry, type EntryRole, kindNamed, kinds } from '../record/index.ts';

/** What a person is at a site. Administrators look after accounts and have no role in the record by that alone. */
export type SiteRole = 'inspector' | 'reviewer' | 'lead';

const BY_ROLE: Readonly<Record<EntryRole, readonly SiteRole[]>> = {
  evidence: ['inspector'],
  call: ['inspector'],
  act: ['inspector'],
  submission: ['inspector'],
  review: ['reviewer'],
  second: ['reviewer'],
  answer: ['inspector'],
  register: ['lead', 'inspector'],
  'table draft': ['lead'],
  'table approval': ['lead', 'reviewer'],
  study: ['lead'],
  'study reading': ['inspector', 'reviewer', 'lead'],
  note: ['inspector', 'reviewer', 'lead'],
};

/** Registers that only a lead writes: what limits and instruments everyone else works with. */
const LEAD_ONLY: readonly string[] = [
  kinds.siteDescribed.kind,
  kinds.inspectionPolicySet.kind,
  kinds.wheelDescribed.kind,
  kinds.instrumentDescribed.kind,
  kinds.componentMerged.kind,
];

/** Reviews that a lead may write too: who is to do one. */
const LEAD_TOO: readonly string[] = [kinds.reviewAssigned.kind];

/** Who may append entries of a kind. Kinds that are not known here may be passed on by any member. */
export function rolesFor(kind: string): readonly SiteRole[] {
  const role = kindNamed(kind)?.role;
  if (role === undefined) return ['inspector', 'reviewer', 'lead'];
  if (LEAD_ONLY.includes(kind)) return ['lead'];
  return LEAD_TOO.includes(kind) ? [...BY_ROLE[role], 'lead'] : BY_ROLE[role];
}

/** Whether a person with these roles at the entry's site may append it. Fails with a problem on `kind`. */
export function mayAppend(entry: Entry, roles: readonly SiteRole[]): Result<true, Problem> {
  const needed = rolesFor(entry.kind);
  if (needed.some((role) => roles.includes(role))) return ok(true);
  return fail(
    problem(
      'entry-role',
      'kind',
      entry.kind,
      `This takes the role ${needed.join(' or ')} at the site`,
      'Ask the administrator for the role, or a colleague who has it.',
    ),
  );
}
