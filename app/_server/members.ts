import { type Membership, type SignedIn, sitesOf } from '../../lib/store/server/index.ts';
import type { ServerContext } from './context.ts';

/** The person's membership of a site, or undefined: then nothing of the site may be told, not even that it is there. */
export function memberOf(context: ServerContext, person: SignedIn, site: string): Membership | undefined {
  return sitesOf(context.store, person.id).find((membership) => membership.id === site);
}
