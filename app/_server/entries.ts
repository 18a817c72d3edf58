import { bodyOf, isReadable, kinds, type SiteState } from '../../lib/record/index.ts';
import { append, type Outcome, type SignedIn, sitesOf, updateSite } from '../../lib/store/server/index.ts';
import { acceptFrom } from './accept.ts';
import type { ServerContext } from './context.ts';
import { envelopeId, readEnvelope } from './envelope.ts';
import { projectRecord } from './project.ts';

/** Appends what a person sent; a malformed envelope refuses that entry alone. Outcomes in the order received. */
export function appendReceived(
  context: ServerContext,
  person: SignedIn,
  received: readonly unknown[],
): Outcome[] {
  const now = context.now();
  const read = received.map((one) => ({ id: envelopeId(one), envelope: readEnvelope(one) }));
  const entries = read.flatMap(({ envelope }) => (envelope.ok ? [envelope.value] : []));
  const sites = sitesOf(context.store, person.id);
  const outcomes = append(context.store, entries, {
    receivedAt: now,
    accept: acceptFrom({ person: person.id, sites, now }, context.store),
    project: projectRecord,
  });
  const stored = new Set(outcomes.flatMap((one) => (one.status === 'stored' ? [one.id] : [])));
  for (const entry of entries) {
    if (entry.kind !== kinds.siteDescribed.kind || !stored.has(entry.id) || !isReadable(entry)) continue;
    const { name, keepLocation } = bodyOf(entry) as SiteState;
    updateSite(context.store, { id: entry.site, name, keepLocation });
  }
  let next = 0;
  return read.map(({ id, envelope }): Outcome => {
    if (!envelope.ok) return { id, status: 'refused', problem: envelope.error };
    const outcome = outcomes[next];
    next += 1;
    if (outcome === undefined) throw new Error('Broken invariant: every entry of a batch has an outcome');
    return outcome;
  });
}
