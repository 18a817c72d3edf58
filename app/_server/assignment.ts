import type { z } from 'zod';
import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { bodyOf, type Entry, foldInspection, type kinds } from '../../lib/record/index.ts';
import { type ReadSubject, type Store, sitesOf } from '../../lib/store/server/index.ts';

/** Whether a review may be given to this person: a reviewer of the site who had no hand in the inspection. */
export function judgeAssignment(entry: Entry, readSubject: ReadSubject, store: Store): Result<void, Problem> {
  const { to } = bodyOf(entry) as z.infer<typeof kinds.reviewAssigned.body>;
  const before = readSubject('inspection', entry.subject.id);
  if (before.length === 0) {
    return refusal(
      'subject.id',
      entry.subject.id,
      'There is no such inspection here',
      'Open the queue again.',
    );
  }
  if (to === null) return ok(undefined);
  const roles = sitesOf(store, to).find(({ id }) => id === entry.site)?.roles ?? [];
  if (!roles.includes('reviewer')) {
    return refusal('body.to', to, 'This person is no reviewer of the site', 'Choose one of its reviewers.');
  }
  if (foldInspection(before).inspectors.includes(to)) {
    return refusal(
      'body.to',
      to,
      'Nobody reviews an inspection they took part in',
      'Choose another reviewer.',
    );
  }
  return ok(undefined);
}

function refusal(field: string, value: string, message: string, wayOut: string): Result<void, Problem> {
  return fail(problem('review-assignment', field, value, message, wayOut));
}
