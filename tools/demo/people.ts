import type { SiteRole } from '../../lib/review/index.ts';

export const SITE_NAME = 'Demonstration quarry';

/** Parts that people play in the demonstration; nobody has a personal name. */
export type DemoPart = 'administrator' | 'lead' | 'inspector 1' | 'inspector 2' | 'reviewer 1' | 'reviewer 2';

export interface DemoPerson {
  readonly part: DemoPart;
  readonly name: string;
  readonly email: string;
  /** Printed openly: it opens nothing but invented data on this machine. */
  readonly password: string;
  readonly roles: readonly SiteRole[];
}

/** Everyone in the demonstration; the administrator first, who makes the others. */
export const demoPeople: readonly DemoPerson[] = [
  {
    part: 'administrator',
    name: 'Demo administrator',
    email: 'administrator@quarry.example',
    password: 'open gate at the quarry',
    roles: ['inspector', 'reviewer', 'lead'],
  },
  {
    part: 'lead',
    name: 'Demo lead',
    email: 'lead@quarry.example',
    password: 'ledger under the lamp',
    roles: ['lead'],
  },
  {
    part: 'inspector 1',
    name: 'Demo inspector 1',
    email: 'inspector1@quarry.example',
    password: 'gauge beside the kettle',
    roles: ['inspector'],
  },
  {
    part: 'inspector 2',
    name: 'Demo inspector 2',
    email: 'inspector2@quarry.example',
    password: 'chalk behind the crusher',
    roles: ['inspector'],
  },
  {
    part: 'reviewer 1',
    name: 'Demo reviewer 1',
    email: 'reviewer1@quarry.example',
    password: 'second pair of spectacles',
    roles: ['reviewer'],
  },
  {
    part: 'reviewer 2',
    name: 'Demo reviewer 2',
    email: 'reviewer2@quarry.example',
    password: 'quiet desk by the window',
    roles: ['reviewer'],
  },
];

/** The sign-ins and what to try first, as printed. */
export function welcome(address: string): string {
  const rows = demoPeople.map(
    ({ part, email, password }) => `  ${part.padEnd(14)} ${email.padEnd(30)} ${password}`,
  );
  return [
    `Rimbook demonstration: ${address}`,
    '',
    'Everything in it is invented: the quarry, the maker, the limits and the photos. Not for use on real rims.',
    '',
    '  who            e-mail                         password',
    ...rows,
    '',
    'Try first:',
    '  1. Sign in as reviewer 1 and open the queue: a cracked lock ring and a shallow gutter wait for a second pair of eyes.',
    '  2. Sign in as inspector 1: your inspection of loader wheel CWE-K3X was sent back; the reason stands in it.',
    '  3. Sign in as lead and open the book of any wheel.',
    '',
    'Stop with Ctrl-C. Delete data/demo to begin again.',
  ].join('\n');
}
