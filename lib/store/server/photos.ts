import type { Problem } from '../../base/index.ts';
import type { Store } from './database.ts';

/** A photo as one site holds it; the bytes lie once for all sites. */
export interface PhotoRecord {
  readonly site: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Label given by the sender. */
  readonly name: string;
  /** Facts read from the bytes, as JSON. */
  readonly facts: string;
  readonly addedBy: string;
  readonly addedAt: string;
}

/** The photo of a site, or undefined: another site's photo with the same bytes does not count. */
export function findPhoto(store: Store, site: string, sha256: string): PhotoRecord | undefined {
  const row = store.first(
    store.build.selectFrom('photo').selectAll().where('site', '=', site).where('sha256', '=', sha256),
  );
  if (row === undefined) return undefined;
  return {
    site: row.site,
    sha256: row.sha256,
    bytes: row.bytes,
    name: row.name,
    facts: row.facts,
    addedBy: row.added_by,
    addedAt: row.added_at,
  };
}

/** Notes that a site holds a photo whose bytes are stored; the first note stays when it is sent again. */
export function addPhoto(store: Store, photo: PhotoRecord): void {
  store.transaction(() => {
    store.run(
      store.build
        .insertInto('photo')
        .values({
          site: photo.site,
          sha256: photo.sha256,
          bytes: photo.bytes,
          name: photo.name,
          facts: photo.facts,
          added_by: photo.addedBy,
          added_at: photo.addedAt,
        })
        .onConflict((conflict) => conflict.columns(['site', 'sha256']).doNothing()),
    );
    store.run(
      store.build
        .deleteFrom('upload')
        .where('site', '=', photo.site)
        .where('sha256', '=', photo.sha256)
        .where('person', '=', photo.addedBy),
    );
  });
}

/** Remembers why bytes were refused, so that sending them again is answered at once and alike. */
export function rememberRefusal(
  store: Store,
  refusal: {
    readonly site: string;
    readonly sha256: string;
    readonly problem: Problem;
    readonly now: string;
  },
): void {
  store.run(
    store.build
      .insertInto('photo_refused')
      .values({
        site: refusal.site,
        sha256: refusal.sha256,
        problem: JSON.stringify(refusal.problem),
        refused_at: refusal.now,
      })
      .onConflict((conflict) => conflict.columns(['site', 'sha256']).doNothing()),
  );
}

/** Why these bytes were refused at this site before, or undefined. */
export function findRefusal(store: Store, site: string, sha256: string): Problem | undefined {
  const row = store.first(
    store.build
      .selectFrom('photo_refused')
      .select('problem')
      .where('site', '=', site)
      .where('sha256', '=', sha256),
  );
  return row === undefined ? undefined : (JSON.parse(row.problem) as Problem);
}
