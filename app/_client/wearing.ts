'use client';
import { type Remote, wrap } from 'comlink';
import { useEffect, useMemo, useState } from 'react';
import {
  type InspectionMeasured,
  measuredIn,
  type PlacedVisit,
  type WearContext,
} from '../../lib/history/index.ts';
import type { InspectionState } from '../../lib/record/index.ts';
import { tablesInForce } from '../../lib/tolerances/index.ts';
import { now } from './device.ts';
import { useWorkplace } from './Workplace.tsx';
import type { Reached, WearAnswer, Wearing } from './wearing.worker.ts';

interface Started {
  readonly wearing: Remote<Wearing>;
  /** Rejects when the worker cannot run. */
  readonly broken: Promise<never>;
}

let worker: Started | null = null;

function started(): Started {
  if (worker !== null) return worker;
  const made = new Worker(new URL('./wearing.worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, reject) => {
    made.addEventListener('error', (event) => reject(new Error(event.message)));
  });
  broken.catch(() => undefined);
  worker = { wearing: wrap<Wearing>(made), broken };
  return worker;
}

function fromWorker<T>(ask: (wearing: Remote<Wearing>) => Promise<T>): Promise<T> {
  const { wearing, broken } = started();
  return Promise.race([ask(wearing), broken]);
}

/** Shows what a promise gives for as long as it is asked for; null while it is not there. */
function useAnswer<T>(ask: () => Promise<T>): T | null {
  const [answer, setAnswer] = useState<{ readonly value: T } | null>(null);
  const [broken, setBroken] = useState<Error | null>(null);
  useEffect(() => {
    let gone = false;
    ask().then(
      (value) => !gone && setAnswer({ value }),
      (error: unknown) => !gone && setBroken(error instanceof Error ? error : new Error(String(error))),
    );
    return () => {
      gone = true;
    };
  }, [ask]);
  if (broken !== null) throw broken;
  // While the next answer is worked out the one before stays on the screen.
  return answer?.value ?? null;
}

/** What trends are held against now: the register, and the tables in force at the site. */
export function useWearContext(): Omit<WearContext, 'fleet'> {
  const { register, tables, siteState } = useWorkplace();
  return useMemo(() => {
    const at = now();
    const inForce = tablesInForce(siteState?.tables ?? [], tables.tables, at);
    return { register, tables: inForce.tables, on: at.slice(0, 10) };
  }, [register, tables, siteState]);
}

/** How long the page may be kept busy between two breaths. */
const BUSY_MS = 8;

/** What inspections measured, a few at a time, so that the page answers in between. */
async function measuredInBreaths(inspections: readonly InspectionState[]): Promise<InspectionMeasured[]> {
  const found: InspectionMeasured[] = [];
  let since = performance.now();
  for (const inspection of inspections) {
    const one = measuredIn(inspection);
    if (one !== null) found.push(one);
    if (performance.now() - since < BUSY_MS) continue;
    await new Promise((breath) => setTimeout(breath));
    since = performance.now();
  }
  return found;
}

const NO_INSPECTIONS: readonly InspectionState[] = [];

/**
 * The trends of the site, or of the components of a wheel; what others of the fleet measured comes from the server, and
 * from the device what was submitted in `inspections` and is not there yet. Null while they are worked out.
 */
export function useWear(
  wheel: string | null,
  inspections: readonly InspectionState[] = NO_INSPECTIONS,
): WearAnswer | null {
  const { site } = useWorkplace();
  const context = useWearContext();
  const ask = useMemo(() => {
    return async () => {
      const onDevice = await measuredInBreaths(inspections);
      return fromWorker((far) => far.wears({ site: site.id, onDevice, wheel, ...context }));
    };
  }, [site.id, wheel, context, inspections]);
  return useAnswer(ask);
}

/** Where concluded inspections of the site found things; null while they are fetched. */
export function useVisits(): (Reached & { readonly visits: readonly PlacedVisit[] }) | null {
  const { site } = useWorkplace();
  const ask = useMemo(() => () => fromWorker((far) => far.visits(site.id)), [site.id]);
  return useAnswer(ask);
}
