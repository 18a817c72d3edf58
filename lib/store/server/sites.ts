import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';

/** What a person may do at a site; reading is common to all three. */
export const ROLES = ['inspector', 'reviewer', 'lead'] as const;
export type Role = (typeof ROLES)[number];

export interface Site {
  readonly id: string;
  readonly name: string;
  /** Whether derived pictures keep the position of the original. */
  readonly keepLocation: boolean;
}

/** A site with the roles one person has there. */
export interface Membership {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly Role[];
}

/** Makes a site; fails when its name is taken, upper and lower case alike. */
export function addSite(store: Store, site: Site & { readonly now: string }): Result<Site, Problem> {
  return store.transaction(() => {
    const taken = store
      .all(store.build.selectFrom('site').select('name'))
      .some((other) => other.name.toLowerCase() === site.name.toLowerCase());
    if (taken) {
      return fail(
        problem(
          'site-name-taken',
          'name',
          site.name,
          'There is a site with this name',
          'Give the site another name.',
        ),
      );
    }
    store.run(
      store.build.insertInto('site').values({
        id: site.id,
        name: site.name,
        keep_location: site.keepLocation ? 1 : 0,
        created_at: site.now,
      }),
    );
    return ok({ id: site.id, name: site.name, keepLocation: site.keepLocation });
  });
}

/** Every site, by name. */
export function listSites(store: Store): Site[] {
  return store
    .all(store.build.selectFrom('site').selectAll().orderBy('name'))
    .map((row) => ({ id: row.id, name: row.name, keepLocation: row.keep_location === 1 }));
}

/** One site, or undefined. */
export function findSite(store: Store, id: string): Site | undefined {
  return listSites(store).find((site) => site.id === id);
}

/** Sites at which a person has a role, by name. */
export function sitesOf(store: Store, person: string): Membership[] {
  const rows = store.all(
    store.build
      .selectFrom('membership')
      .innerJoin('site', 'site.id', 'membership.site')
      .select(['site.id as id', 'site.name as name', 'membership.role as role'])
      .where('membership.person', '=', person)
      .orderBy('site.name')
      .orderBy('membership.role'),
  );
  return [...new Map(rows.map((row) => [row.id, row.name]))].map(([id, name]) => ({
    id,
    name,
    roles: rows.filter((row) => row.id === id).map((row) => row.role as Role),
  }));
}

/** Replaces a person's roles at a site; none means that the person no longer belongs there. */
export function setRoles(store: Store, person: string, site: string, roles: readonly Role[]): void {
  store.transaction(() => {
    store.run(store.build.deleteFrom('membership').where('person', '=', person).where('site', '=', site));
    for (const role of new Set(roles)) {
      store.run(store.build.insertInto('membership').values({ person, site, role }));
    }
  });
}

/** Brings name and keeping of locations in line with what the site's own record says. */
export function updateSite(store: Store, site: Site): void {
  store.run(
    store.build
      .updateTable('site')
      .set({ name: site.name, keep_location: site.keepLocation ? 1 : 0 })
      .where('id', '=', site.id),
  );
}
