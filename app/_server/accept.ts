import { fail, ok, problem } from '../../lib/base/index.ts';
import { type Accept, siteUnknown } from '../../lib/store/server/index.ts';

/** How far a device clock may run ahead of the server's before an entry is refused. */
const AHEAD_MS_MAX = 24 * 3600 * 1000;

/** What acceptance depends on besides the record. */
export interface Sender {
  readonly person: string;
  /** Ids of the sites at which the person has a role. */
  readonly sites: ReadonlySet<string>;
  /** Server clock, ISO 8601 in UTC. */
  readonly now: string;
}

/** What every entry must fulfil, whatever its kind: own site, own hand, a clock that is not ahead. */
export function acceptFrom(sender: Sender): Accept {
  return (entry) => {
    if (!sender.sites.has(entry.site)) return fail(siteUnknown(entry.site));
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
    return ok(undefined);
  };
}
