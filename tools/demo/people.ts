import type { SiteRole } from '../../lib/review/index.ts';

export const SITE_NAME = 'Demonstration quarry';

/** Parts that people play in the demonstration; nobody has a personal name. */
export type DemoInspector = 'inspector 1' | 'inspector 2' | 'inspector 3';
export type DemoReviewer = 'reviewer 1' | 'reviewer 2';
export type DemoPart = 'administrator' | 'lead' | DemoInspector | DemoReviewer;

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
    part: 'inspector 3',
    name: 'Demo inspector 3',
    email: 'inspector3@quarry.example',
    password: 'wire brush on the bench',
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

/** How somebody measures: `bias` is added to every reading, `spread` is its scatter (one standard deviation), mm. */
export interface Hand {
  readonly bias: number;
  readonly spread: number;
  /** Scatter of a point set on a photo, px at 2000 px across. */
  readonly pointPx: number;
}

/** Gauge readings of each inspector; with the tape they are ten times as far off. Invented. */
export const hands: Readonly<Record<DemoInspector, Hand>> = {
  'inspector 1': { bias: 0.01, spread: 0.03, pointPx: 1.5 },
  'inspector 2': { bias: -0.04, spread: 0.04, pointPx: 2.5 },
  'inspector 3': { bias: 0.03, spread: 0.08, pointPx: 3.5 },
};

/** How a reviewer measures on photos; `eyeMm` is the scatter of a gauge read from a photo, mm. Invented. */
export const secondHands: Readonly<Record<DemoReviewer, Hand & { readonly eyeMm: number }>> = {
  'reviewer 1': { bias: 0, spread: 0, pointPx: 1.5, eyeMm: 0.02 },
  'reviewer 2': { bias: 0, spread: 0, pointPx: 2, eyeMm: 0.04 },
};

/** The name that stands in the gate, where it asks who did something. */
export function nameOf(part: DemoPart): string {
  return `Demo ${part}`;
}

/** The sign-ins and what to try first, as printed. */
export function welcome(address: string): string {
  const rows = demoPeople.map(
    ({ part, email, password }) => `  ${part.padEnd(14)} ${email.padEnd(30)} ${password}`,
  );
  return [
    `Rimbook demonstration: ${address}`,
    '',
    'Everything in it is invented: the quarry, the makers, the limits and the photos. Not for use on real rims.',
    '',
    '  who            e-mail                         password',
    ...rows,
    '',
    'Try first:',
    ...TRY_FIRST.map((line, index) => `  ${index + 1}. ${line}`),
    '',
    'Stop with Ctrl-C. Delete data/demo to begin again.',
  ].join('\n');
}

/** What to try first. */
export const TRY_FIRST: readonly string[] = [
  'Sign in as reviewer 1 and open the queue: seven inspections wait, WL-03 front left with two cracks before all.',
  'Open WC-05 rear left there and look at the photo of the lock ring: the inspector passed something over.',
  'Open GR-06 rear left there: what was drawn as a crack in the back flange radius is a hair.',
  'Sign in as inspector 1: GR-06 front right was sent back to you; the reason stands in it.',
  'Sign in as lead and read the book of HT-02 front left: a crack that was taken for a scratch, over three years.',
  'Then the book of WL-04 front right: rust and a worn flange, photographed four times until the limit was reached.',
];
