import type { z } from 'zod';
import type { QueueQuery } from '../../lib/store/server/index.ts';
import type { operations } from './contract/index.ts';

const DAY_MS = 86_400_000;

/** The query of the store from that of a request: names become people, days become a moment. */
export function queueQuery(
  asked: z.output<typeof operations.readQueue.query>,
  person: string,
  now: string,
): QueueQuery {
  const { assigned, energy, waitingDays, site, status, wheels, result, cursor, limit } = asked;
  const assignedTo = assigned === 'me' ? person : assigned === 'nobody' ? null : assigned;
  return {
    site,
    now,
    limit,
    ...(status === undefined ? {} : { status }),
    ...(assigned === 'anyone' ? {} : { assignedTo }),
    ...(wheels === undefined ? {} : { wheels }),
    ...(energy === undefined ? {} : { energyClass: energy }),
    ...(result === undefined ? {} : { result }),
    ...(waitingDays === undefined
      ? {}
      : { waitingSince: new Date(Date.parse(now) - waitingDays * DAY_MS).toISOString() }),
    ...(cursor === undefined ? {} : { cursor }),
  };
}
