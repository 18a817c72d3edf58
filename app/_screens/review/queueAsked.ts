/** What the queue is asked for; every member is kept as text in the address, so that going back finds it again. */
export interface Asked {
  readonly status: QueueStatus;
  /** `anyone`, `me`, `nobody` or the id of a person. */
  readonly assigned: string;
  /** Name of a machine; empty: all of them. */
  readonly machine: string;
  /** Energy class; empty: all of them. */
  readonly energy: string;
  /** Days waited at least; empty: any. */
  readonly days: string;
}

export const STATUS_WORDS = {
  submitted: 'Waiting for review',
  asked: 'Question asked',
  'sent back': 'Sent back',
  'third person': 'Needs a third person',
  concluded: 'Reviewed',
  reopened: 'New evidence since review',
} as const;
export type QueueStatus = keyof typeof STATUS_WORDS;
export const STATUSES = Object.keys(STATUS_WORDS) as readonly QueueStatus[];

/** What each state says when nothing is in it. */
export const EMPTY_WORDS: Readonly<Record<QueueStatus, string>> = {
  submitted: 'Nothing waits. Inspections appear here as soon as they are submitted and have arrived.',
  asked: 'No question of a reviewer is open.',
  'sent back': 'Nothing is with its inspector after having been sent back.',
  'third person': 'No two people disagree so far that a third has to decide.',
  concluded: 'Nothing has been reviewed yet.',
  reopened: 'No evidence has come in after a review.',
};

export const WAITING: Asked = { status: 'submitted', assigned: 'anyone', machine: '', energy: '', days: '' };

/** How many filters besides the state narrow the list. */
export function narrowing(asked: Asked): number {
  const { assigned, machine, energy, status } = asked;
  const days = status === 'concluded' ? '' : asked.days;
  return Number(assigned !== 'anyone') + [machine, energy, days].filter((one) => one !== '').length;
}

/** What was asked from the query of an address; what is not understood there is left away. */
export function askedIn(search: string): Asked {
  const query = new URLSearchParams(search);
  const status = STATUSES.find((one) => one === query.get('status'));
  const digits = (name: string) => (/^\d{1,4}$/.test(query.get(name) ?? '') ? (query.get(name) ?? '') : '');
  return {
    status: status ?? WAITING.status,
    assigned: query.get('assigned') ?? WAITING.assigned,
    machine: query.get('machine') ?? '',
    energy: digits('energy'),
    days: digits('days'),
  };
}

/** The query of an address for what is asked; empty for what the queue opens with. */
export function searchOf(asked: Asked): string {
  const changed = Object.entries(asked).filter(([key, value]) => value !== WAITING[key as keyof Asked]);
  return changed.length === 0 ? '' : `?${new URLSearchParams(changed as [string, string][])}`;
}

/** Query of the interface for what is asked; `wheels` are those of the machine that was chosen. */
export function queueSearch(site: string, asked: Asked, wheels: readonly string[]): string {
  return new URLSearchParams({
    site,
    status: asked.status,
    ...(asked.assigned === 'anyone' ? {} : { assigned: asked.assigned }),
    ...(asked.machine === '' ? {} : { wheels: wheels.join() }),
    ...(asked.energy === '' ? {} : { energy: asked.energy }),
    // What was reviewed waits no more.
    ...(asked.days === '' || asked.status === 'concluded' ? {} : { waitingDays: asked.days }),
  }).toString();
}
