import { fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { checkReading, type Reading } from '../../lib/readings/index.ts';
import { bodyOf, type Entry, isReadable, kinds, type SiteState } from '../../lib/record/index.ts';
import { mayAppend } from '../../lib/review/index.ts';
import {
  type Accept,
  listSites,
  type Membership,
  type Store,
  siteUnknown,
} from '../../lib/store/server/index.ts';
import { judgeConclusion, judgeSubmission } from './judge.ts';

/** How far a device clock may run ahead of the server's before an entry is refused. */
const AHEAD_MS_MAX = 24 * 3600 * 1000;

const READINGS: readonly string[] = [kinds.readingEntered.kind, kinds.readingCorrected.kind];

/** What acceptance depends on besides the record. */
export interface Sender {
  readonly person: string;
  /** Sites at which the person has a role. */
  readonly sites: readonly Membership[];
  /** Server clock, ISO 8601 in UTC. */
  readonly now: string;
}

/**
 * Whether an entry may be written: by the person who made it, at a site of theirs, with the role its kind takes, at
 * a time that is not ahead, and following from the record where it sums the record up (submissions, conclusions).
 */
export function acceptFrom(sender: Sender, store: Store): Accept {
  return (entry, readSubject) => {
    const site = sender.sites.find((one) => one.id === entry.site);
    if (site === undefined) return fail(siteUnknown(entry.site));
    if (entry.author !== sender.person) {
      return fail(
        problem(
          'entry-author',
          'author',
          entry.author,
          'An entry is sent by the person who made it',
          'Sign in as that person and send it again.',
        ),
      );
    }
    if (Date.parse(entry.at) - Date.parse(sender.now) > AHEAD_MS_MAX) {
      return fail(
        problem(
          'entry-future',
          'at',
          entry.at,
          "The device clock is more than a day ahead of the server's",
          'Set the date and time of the device and make the entry again.',
        ),
      );
    }
    const may = mayAppend(entry, site.roles);
    if (!may.ok) return may;
    if (isReadable(entry) && READINGS.includes(entry.kind)) {
      const read = checkReading(bodyOf(entry) as Reading);
      return read.ok ? ok(undefined) : fail({ ...read.error, field: `body.${read.error.field}` });
    }
    if (entry.kind === kinds.siteDescribed.kind) return judgeSite(entry, store);
    if (entry.kind === kinds.inspectionSubmitted.kind) return judgeSubmission(entry, readSubject, store);
    if (entry.kind === kinds.reviewConcluded.kind) return judgeConclusion(entry, readSubject);
    return ok(undefined);
  };
}

/** A site describes itself, under a name that no other site has. */
function judgeSite(entry: Entry, store: Store): Result<void, Problem> {
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
  if (!isReadable(entry)) return ok(undefined);
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
