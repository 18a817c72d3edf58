import { fail, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';

/** How long a hold lasts without being taken again, own choice: longer than looking at one part takes. */
export const HOLD_MS = 10 * 60_000;

/** Somebody looks at an inspection; others leave it to them until it expires. */
export interface Hold {
  readonly person: string;
  /** ISO 8601 in UTC. */
  readonly until: string;
}

/** Which inspection, who, and the server's clock, ISO 8601 in UTC. */
export interface HoldAsked {
  readonly site: string;
  readonly inspection: string;
  readonly person: string;
  readonly now: string;
}

/** Who holds an inspection at a moment, or null; a hold ends at `until`, that moment no longer included. */
export function holderOf(store: Store, site: string, inspection: string, now: string): Hold | null {
  const row = store.first(
    store.build
      .selectFrom('review_hold')
      .select(['person', 'expires_at'])
      .where('site', '=', site)
      .where('inspection', '=', inspection)
      .where('expires_at', '>', now),
  );
  return row === undefined ? null : { person: row.person, until: row.expires_at };
}

/** Takes or renews a hold for `HOLD_MS` from now. Fails with a problem while somebody else's has not expired. */
export function takeHold(store: Store, { site, inspection, person, now }: HoldAsked): Result<Hold, Problem> {
  return store.transaction(() => {
    const held = holderOf(store, site, inspection, now);
    if (held !== null && held.person !== person) return fail(heldByOther(held));
    const until = new Date(Date.parse(now) + HOLD_MS).toISOString();
    const values = { person, taken_at: now, expires_at: until };
    store.run(
      store.build
        .insertInto('review_hold')
        .values({ site, inspection, ...values })
        .onConflict((on) => on.columns(['site', 'inspection']).doUpdateSet(values)),
    );
    return ok({ person, until });
  });
}

/** Gives one's own hold back; one that is not there is given back already. Fails on somebody else's. */
export function releaseHold(
  store: Store,
  { site, inspection, person, now }: HoldAsked,
): Result<null, Problem> {
  return store.transaction(() => {
    const held = holderOf(store, site, inspection, now);
    if (held !== null && held.person !== person) return fail(heldByOther(held));
    store.run(
      store.build
        .deleteFrom('review_hold')
        .where('site', '=', site)
        .where('inspection', '=', inspection)
        .where('person', '=', person),
    );
    return ok(null);
  });
}

/** The problem of somebody who finds an inspection held by another reviewer. */
export function heldByOther({ person, until }: Hold): Problem {
  return problem(
    'review-held',
    'person',
    person,
    `Another reviewer is looking at this inspection, until ${until} unless they go on`,
    'Take another one, or wait until then.',
  );
}
