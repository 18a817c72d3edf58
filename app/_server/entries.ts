import { type Entry, foldRegister, kinds } from '../../lib/record/index.ts';
import {
  append,
  type Outcome,
  type SignedIn,
  type Store,
  sitesOf,
  updateSite,
} from '../../lib/store/server/index.ts';
import { acceptFrom } from './accept.ts';
import type { ServerContext } from './context.ts';
import { envelopeId, readEnvelope } from './envelope.ts';
import { projectRecord } from './project.ts';

/**
 * Appends what a person sent; a malformed envelope refuses that entry alone. Outcomes in the order received.
 * `passwordEntered`: the person has just entered their password again, as signatures ask for.
 */
export function appendReceived(
  context: ServerContext,
  person: SignedIn,
  received: readonly unknown[],
  passwordEntered = false,
): Outcome[] {
  const now = context.now();
  const read = received.map((one) => ({ id: envelopeId(one), envelope: readEnvelope(one) }));
  const entries = read.flatMap(({ envelope }) => (envelope.ok ? [envelope.value] : []));
  const sites = sitesOf(context.store, person.id);
  const outcomes = append(context.store, entries, {
    receivedAt: now,
    accept: acceptFrom({ person: person.id, sites, now, passwordEntered }, context.store),
    project: projectRecord,
    readsProjections: (entry) => entry.kind === kinds.inspectionSubmitted.kind,
    mayRead: (site) => sites.some(({ id }) => id === site),
    stored: (entry, subject) => followSite(context.store, entry, subject),
    log: (entry, error) => console.error(`[entry ${entry.id}] ${entry.kind} v${entry.v}`, error),
  });
  let next = 0;
  return read.map(({ id, envelope }): Outcome => {
    if (!envelope.ok) return { id, status: 'refused', problem: envelope.error };
    const outcome = outcomes[next];
    next += 1;
    if (outcome === undefined) throw new Error('Broken invariant: every entry of a batch has an outcome');
    return outcome;
  });
}

/** Brings a site's name and settings in line with its newest description, at once: the next entry may rely on them. */
function followSite(store: Store, entry: Entry, subject: readonly Entry[]): void {
  if (entry.kind !== kinds.siteDescribed.kind) return;
  const site = foldRegister(subject).sites.get(entry.site);
  if (site !== undefined) updateSite(store, site);
}
