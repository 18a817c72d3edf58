import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { bodyOf, type Entry, type SiteState } from '../../lib/record/index.ts';
import { listSites, type Store } from '../../lib/store/server/index.ts';

/** A site describes itself, under a name that no other site has. */
export function judgeSite(entry: Entry, store: Store): Result<void, Problem> {
  if (entry.subject.id !== entry.site) {
    return fail(
      problem(
        'site-subject',
        'subject.id',
        entry.subject.id,
        'A site describes itself only',
        'Give the id of the site as the subject.',
      ),
    );
  }
  const { name } = bodyOf(entry) as SiteState;
  const taken = listSites(store).some(
    (site) => site.id !== entry.site && site.name.toLowerCase() === name.toLowerCase(),
  );
  if (!taken) return ok(undefined);
  return fail(
    problem(
      'site-name-taken',
      'body.name',
      name,
      'There is a site with this name',
      'Give the site another name.',
    ),
  );
}
