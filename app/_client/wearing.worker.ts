import { expose } from 'comlink';
import type { Problem } from '../../lib/base/index.ts';
import {
  type InspectionMeasured,
  type PlacedVisit,
  type Wear,
  type WearContext,
  wearsOf,
} from '../../lib/history/index.ts';
import { Unreachable } from '../../lib/store/device/index.ts';
import { call, Refused } from './remote.ts';

/** How far a fetch of all pages came. */
export interface Reached {
  /** False: there was no connection, so that only what is on the device counts. */
  readonly reached: boolean;
  readonly problem: Problem | null;
}

/** What is asked of the worker beside the server: inspections on the device and all that trends are drawn from. */
export interface WearAsked extends Omit<WearContext, 'fleet'> {
  readonly site: string;
  readonly onDevice: readonly InspectionMeasured[];
  /** Only components that are or were in this wheel; null: all. */
  readonly wheel: string | null;
}

export interface WearAnswer extends Reached {
  readonly wears: readonly Wear[];
  /** Inspections that the person has to measure first. */
  readonly withheld: number;
}

/** Reads all pages of a list; `take` is given each. */
async function allPages<P extends { readonly next: string | null }>(
  path: string,
  take: (page: P) => void,
): Promise<Reached> {
  try {
    for (let after: string | null = ''; after !== null; ) {
      const page: P = await call<P>('GET', `${path}&limit=500&after=${after}`);
      take(page);
      after = page.next;
    }
  } catch (error) {
    if (error instanceof Refused) return { reached: true, problem: error.problem };
    if (error instanceof Unreachable) return { reached: false, problem: null };
    throw error;
  }
  return { reached: true, problem: null };
}

interface MeasuredPage {
  readonly inspections: readonly InspectionMeasured[];
  readonly next: string | null;
  readonly withheld: number;
}

interface VisitPage {
  readonly visits: readonly PlacedVisit[];
  readonly next: string | null;
}

const wearing = {
  /** Fetches what a site measured and works out its trends, so that the page waits for neither. */
  async wears({ site, onDevice, wheel, ...context }: WearAsked): Promise<WearAnswer> {
    const found: InspectionMeasured[] = [];
    let withheld = 0;
    const came = await allPages<MeasuredPage>(`/api/v1/wear?site=${site}`, (page) => {
      found.push(...page.inspections);
      withheld += page.withheld;
    });
    // What the server says of an inspection counts before what this device has of it.
    return { ...came, withheld, wears: wearsOf([...onDevice, ...found], context, wheel) };
  },

  async visits(site: string): Promise<Reached & { readonly visits: readonly PlacedVisit[] }> {
    const visits: PlacedVisit[] = [];
    const came = await allPages<VisitPage>(`/api/v1/where?site=${site}`, (page) => {
      visits.push(...page.visits);
    });
    return { ...came, visits };
  },
};

export type Wearing = typeof wearing;
expose(wearing);
