'use client';
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import type { Result } from '../../../lib/rules/index.ts';
import { giveBackLeft } from '../../_client/hold.ts';
import { call } from '../../_client/remote.ts';
import { problemOf } from '../SignIn.tsx';

/** A line of the queue as the server tells it; results are left out for people who may not know them yet. */
export interface Line {
  readonly id: string;
  readonly wheel: string;
  readonly tag: string;
  readonly status: string;
  readonly inspector: string;
  readonly submittedAt: string | null;
  readonly waitingSince: string | null;
  readonly energyClass: 1 | 2 | 3 | 4 | null;
  readonly assignedTo: string | null;
  readonly reviewer: string | null;
  readonly concludedAt: string | null;
  readonly heldBy: string | null;
  readonly heldUntil: string | null;
  readonly body: {
    readonly reason?: string;
    readonly results?: readonly { readonly slot: string; readonly result: Result }[];
    readonly why?: string | null;
    readonly energy?: string | null;
    readonly photos?: number;
    readonly readings?: number;
    readonly inspectors?: readonly string[];
  };
}

export interface QueueState {
  /** Null until something was fetched. */
  readonly lines: readonly Line[] | null;
  readonly more: boolean;
  readonly problem: Problem | null;
  readonly fetchMore: () => Promise<void>;
  /** Reads again what is shown. */
  readonly refresh: () => Promise<void>;
}

interface Page {
  readonly inspections: readonly Line[];
  readonly cursor: string | null;
}

const PAGE = 50;
const PAGE_MAX = 200;
const AGAIN_EVERY_MS = 60_000;

/** The queue by a query of the interface, read again every minute while the page is looked at. */
export function useQueue(search: string): QueueState {
  const [page, setPage] = useState<Page | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  // An answer that arrives after something else was asked is not shown.
  const asked = useRef(search);
  asked.current = search;
  const read = useCallback(
    async (limit: number, cursor: string | null, join: (page: Page) => Page) => {
      try {
        const from = cursor === null ? '' : `&cursor=${encodeURIComponent(cursor)}`;
        const next = await call<Page>('GET', `/api/v1/queue?${search}&limit=${limit}${from}`);
        if (asked.current !== search) return;
        setPage(join(next));
        setProblem(null);
      } catch (error) {
        if (asked.current === search) setProblem(problemOf(error));
      }
    },
    [search],
  );
  const shown = page?.inspections;
  const count = useRef(0);
  count.current = shown?.length ?? 0;
  const refresh = useCallback(
    () => read(Math.min(PAGE_MAX, Math.max(PAGE, count.current)), null, (next) => next),
    [read],
  );
  useEffect(() => {
    setPage(null);
    void giveBackLeft().then(() => read(PAGE, null, (next) => next));
  }, [read]);
  useEffect(() => {
    const look = () => {
      if (document.visibilityState === 'visible') void refresh();
    };
    const timer = setInterval(look, AGAIN_EVERY_MS);
    document.addEventListener('visibilitychange', look);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
    };
  }, [refresh]);
  const fetchMore = async () => {
    if (page === null || page.cursor === null) return;
    await read(PAGE, page.cursor, (next) => ({
      ...next,
      inspections: joined(page.inspections, next.inspections),
    }));
  };
  return { lines: shown ?? null, more: page !== null && page.cursor !== null, problem, fetchMore, refresh };
}

/** Lines that moved between two pages are shown once, where they stand now. */
function joined(before: readonly Line[], next: readonly Line[]): Line[] {
  const ids = new Set(next.map(({ id }) => id));
  return [...before.filter(({ id }) => !ids.has(id)), ...next];
}
