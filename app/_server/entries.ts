import { append, type Outcome, type SignedIn, sitesOf } from '../../lib/store/server/index.ts';
import { acceptFrom } from './accept.ts';
import type { ServerContext } from './context.ts';
import { envelopeId, readEnvelope } from './envelope.ts';
import { projectEnvelope } from './project.ts';

/** Appends what a person sent; a malformed envelope refuses that entry alone. Outcomes in the order received. */
export function appendReceived(
  context: ServerContext,
  person: SignedIn,
  received: readonly unknown[],
): Outcome[] {
  const now = context.now();
  const read = received.map((one) => ({ id: envelopeId(one), envelope: readEnvelope(one) }));
  const entries = read.flatMap(({ envelope }) => (envelope.ok ? [envelope.value] : []));
  const sites = new Set(sitesOf(context.store, person.id).map((site) => site.id));
  const outcomes = append(context.store, entries, {
    receivedAt: now,
    accept: acceptFrom({ person: person.id, sites, now }),
    project: projectEnvelope,
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
