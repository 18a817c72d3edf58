import type { Store } from './database.ts';
import type { Subject } from './rows.ts';

/** A pair of two people's readings or calls, derived from a concluded inspection. */
export interface PairRow {
  readonly kind: 'reading' | 'call';
  /** When the review was concluded, ISO 8601 in UTC. */
  readonly at: string;
  readonly body: Readonly<Record<string, unknown>>;
}

export interface PairsQuery {
  readonly site: string;
  /** First and last day, ISO dates in UTC; open when left out. */
  readonly from?: string;
  readonly to?: string;
  readonly limit: number;
}

/** Replaces the pairs of one inspection. */
export function projectPairs(store: Store, subject: Subject, pairs: readonly PairRow[]): void {
  store.run(
    store.build
      .deleteFrom('projection_pair')
      .where('site', '=', subject.site)
      .where('inspection', '=', subject.id),
  );
  for (const [nth, { kind, at, body }] of pairs.entries()) {
    const row = { site: subject.site, inspection: subject.id, nth, kind, at, body: JSON.stringify(body) };
    store.run(store.build.insertInto('projection_pair').values(row));
  }
}

/** Pairs of a site, the newest first; `more` when there are others beyond the limit. */
export function readPairs(
  store: Store,
  { site, from, to, limit }: PairsQuery,
): { readonly pairs: readonly PairRow[]; readonly more: boolean } {
  let select = store.build.selectFrom('projection_pair').selectAll().where('site', '=', site);
  if (from !== undefined) select = select.where('at', '>=', from);
  // Times of the last day begin with it and sort before this mark.
  if (to !== undefined) select = select.where('at', '<=', `${to}~`);
  const rows = store.all(
    select
      .orderBy('at', 'desc')
      .orderBy('inspection')
      .orderBy('nth')
      .limit(limit + 1),
  );
  return {
    pairs: rows.slice(0, limit).map((row) => ({
      kind: row.kind === 'call' ? 'call' : 'reading',
      at: row.at,
      body: JSON.parse(row.body) as Record<string, unknown>,
    })),
    more: rows.length > limit,
  };
}
