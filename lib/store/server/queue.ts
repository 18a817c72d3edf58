import { type SelectQueryBuilder, sql } from 'kysely';
import { fail, must, ok, type Problem, problem, type Result } from '../../base/index.ts';
import type { Store } from './database.ts';
import type { Hold } from './holds.ts';
import { type InspectionLine, lineOf } from './projections.ts';
import type { Tables } from './tables.ts';

/** A line of the queue: an inspection with who looks at it right now. */
export interface QueueLine extends InspectionLine {
  readonly heldBy: string | null;
  readonly heldUntil: string | null;
}

/** A page of the queue. */
export interface QueuePage {
  readonly inspections: readonly QueueLine[];
  /** Give this as `cursor` to read on; null at the end. */
  readonly cursor: string | null;
}

/** What is asked for; everything but site, clock and limit may be left out and then leaves nothing away. */
export interface QueueQuery {
  readonly site: string;
  /** Server clock, ISO 8601 in UTC: holds that have expired by then are none. */
  readonly now: string;
  readonly status?: string;
  /** Person the review was given to; null: to nobody. */
  readonly assignedTo?: string | null;
  readonly wheels?: readonly string[];
  readonly energyClass?: number;
  /** The worst result of the parts. */
  readonly result?: string;
  /** Only what has waited since then or longer, ISO 8601 in UTC. */
  readonly waitingSince?: string;
  /** Id of the last line of the page before: it says nothing of where that line stands. */
  readonly cursor?: string;
  readonly limit: number;
}

type Select = SelectQueryBuilder<Tables, 'projection_inspection', { id: string }>;

/**
 * Inspections of a site in the order of their rank, of equal ones the longest waiting first. Both steps are by index: the
 * ids from one that holds every column asked for, then the page's lines. Fails when the cursor's line is gone.
 */
export function readQueue(store: Store, query: QueueQuery): Result<QueuePage, Problem> {
  const from = placeOf(store, query);
  if (!from.ok) return from;
  const ids = store
    .all(
      after(filtered(store, query), from.value)
        .orderBy('rank', 'desc')
        .orderBy('submitted_at')
        .orderBy('id')
        .limit(query.limit + 1),
    )
    .map(({ id }) => id);
  const page = ids.slice(0, query.limit);
  const lines = linesOf(store, query, page);
  return ok({ inspections: lines, cursor: ids.length > query.limit ? (page.at(-1) ?? null) : null });
}

function filtered(store: Store, query: QueueQuery): Select {
  const { site, status, assignedTo, wheels, energyClass, result, waitingSince } = query;
  let select = store.build.selectFrom('projection_inspection').select('id').where('site', '=', site);
  if (status !== undefined) select = select.where('status', '=', status);
  if (assignedTo === null) select = select.where('assigned_to', 'is', null);
  else if (assignedTo !== undefined) select = select.where('assigned_to', '=', assignedTo);
  // A plus sign keeps the order's index in use: a wheel's own would have to be sorted.
  if (wheels !== undefined) select = select.where((is) => is(sql<string>`+wheel`, 'in', [...wheels]));
  if (energyClass !== undefined) select = select.where('energy_class', '=', energyClass);
  if (result !== undefined) select = select.where('result', '=', result);
  if (waitingSince !== undefined) {
    select = select.where('waiting_since', '!=', '').where('waiting_since', '<=', waitingSince);
  }
  return select;
}

interface Place {
  readonly rank: number;
  readonly submitted_at: string;
  readonly id: string;
}

function after(select: Select, place: Place | null): Select {
  if (place === null) return select;
  return select
    .where('rank', '<=', place.rank)
    .where((is) =>
      is.or([
        is('rank', '<', place.rank),
        is('submitted_at', '>', place.submitted_at),
        is.and([is('submitted_at', '=', place.submitted_at), is('id', '>', place.id)]),
      ]),
    );
}

/** Where the cursor's line stands now; null at the beginning. */
function placeOf(store: Store, { site, cursor }: QueueQuery): Result<Place | null, Problem> {
  if (cursor === undefined) return ok(null);
  const row = store.first(
    store.build
      .selectFrom('projection_inspection')
      .select(['rank', 'submitted_at', 'id'])
      .where('site', '=', site)
      .where('id', '=', cursor),
  );
  if (row !== undefined) return ok(row);
  return fail(
    problem(
      'queue-cursor',
      'cursor',
      cursor,
      'The line from which to read on is not in the queue of this site',
      'Read the queue from its beginning, without a cursor.',
    ),
  );
}

function linesOf(store: Store, { site, now }: QueueQuery, ids: readonly string[]): QueueLine[] {
  if (ids.length === 0) return [];
  const rows = store.all(
    store.build
      .selectFrom('projection_inspection')
      .selectAll()
      .where('site', '=', site)
      .where('id', 'in', [...ids]),
  );
  const holds = holdsOf(store, site, now, ids);
  const byId = new Map(rows.map((row) => [row.id, row]));
  return ids.map((id) => {
    const hold = holds.get(id);
    const line = lineOf(must(byId.get(id), 'the line of an id just read'));
    return { ...line, heldBy: hold?.person ?? null, heldUntil: hold?.until ?? null };
  });
}

function holdsOf(store: Store, site: string, now: string, ids: readonly string[]): ReadonlyMap<string, Hold> {
  const rows = store.all(
    store.build
      .selectFrom('review_hold')
      .select(['inspection', 'person', 'expires_at'])
      .where('site', '=', site)
      .where('inspection', 'in', [...ids])
      .where('expires_at', '>', now),
  );
  return new Map(rows.map((row) => [row.inspection, { person: row.person, until: row.expires_at }]));
}
