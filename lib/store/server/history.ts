import type { Store } from './database.ts';
import type { Subject } from './rows.ts';

/** What an inspection says for trends of wear (`measured`) or for where things happen (`visit`). */
export interface HistoryRow {
  readonly kind: 'measured' | 'visit';
  /** When it was submitted, ISO 8601 in UTC. */
  readonly at: string;
  readonly body: Readonly<Record<string, unknown>>;
}

export interface HistoryQuery {
  readonly site: string;
  readonly kind: HistoryRow['kind'];
  /** Inspection after which to read; empty for the beginning. */
  readonly after: string;
  readonly limit: number;
}

/** Replaces what one inspection says. */
export function projectHistory(store: Store, subject: Subject, rows: readonly HistoryRow[]): void {
  store.run(
    store.build
      .deleteFrom('projection_history')
      .where('site', '=', subject.site)
      // Both kinds by name, so that the key finds them.
      .where('kind', 'in', ['measured', 'visit'])
      .where('inspection', '=', subject.id),
  );
  for (const { kind, at, body } of rows) {
    const row = { site: subject.site, inspection: subject.id, kind, at, body: JSON.stringify(body) };
    store.run(store.build.insertInto('projection_history').values(row));
  }
}

/** What the inspections of a site say, in the order of their ids; `next` to read on, null at the end. */
export function readHistory(
  store: Store,
  { site, kind, after, limit }: HistoryQuery,
): {
  readonly said: readonly { readonly inspection: string; readonly body: Record<string, unknown> }[];
  readonly next: string | null;
} {
  const rows = store.all(
    store.build
      .selectFrom('projection_history')
      .select(['inspection', 'body'])
      .where('site', '=', site)
      .where('kind', '=', kind)
      .where('inspection', '>', after)
      .orderBy('inspection')
      .limit(limit + 1),
  );
  const page = rows.slice(0, limit);
  return {
    said: page.map(({ inspection, body }) => ({
      inspection,
      body: JSON.parse(body) as Record<string, unknown>,
    })),
    next: rows.length > limit ? (page.at(-1)?.inspection ?? null) : null,
  };
}
