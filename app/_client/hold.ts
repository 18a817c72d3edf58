'use client';
import { useEffect, useState } from 'react';
import type { Problem } from '../../lib/base/index.ts';
import { Unreachable } from '../../lib/store/device/index.ts';
import { call, Refused } from './remote.ts';

/** A hold lasts ten minutes; it is renewed well before. */
const RENEW_MS = 4 * 60_000;

export interface HoldState {
  /** Until when it is ours, ISO 8601; null while it is not. */
  readonly until: string | null;
  /** Why it is not ours: somebody else looks at it, or we took part. Null without a connection too: the hold then waits. */
  readonly problem: Problem | null;
}

const NONE: HoldState = { until: null, problem: null };

/** Under this a tab remembers what it holds: a page that is left cannot be sure that its last word goes out. */
const HELD = 'rimbook.hold';

/** Gives back what this tab held before, if anything; what cannot be reached expires by itself. */
export async function giveBackLeft(except: string | null = null): Promise<void> {
  const path = sessionStorage.getItem(HELD);
  if (path === null || path === except) return;
  sessionStorage.removeItem(HELD);
  try {
    await call('POST', path, { want: 'release' });
  } catch (error) {
    if (!(error instanceof Refused || error instanceof Unreachable)) throw error;
  }
}

async function take(path: string): Promise<HoldState> {
  try {
    await giveBackLeft(path);
    const { until } = await call<{ until: string | null }>('POST', path, { want: 'take' });
    sessionStorage.setItem(HELD, path);
    return { until, problem: null };
  } catch (error) {
    if (error instanceof Refused) return { until: null, problem: error.problem };
    if (error instanceof Unreachable) return NONE;
    throw error;
  }
}

/** Holds an inspection while its page is open, and gives it back on leaving. Null holds nothing. */
export function useHold(site: string, inspection: string | null): HoldState {
  const [state, setState] = useState(NONE);
  useEffect(() => {
    if (inspection === null) return;
    let gone = false;
    const path = `/api/v1/inspections/${inspection}/hold?site=${site}`;
    const hold = () => void take(path).then((next) => gone || setState(next));
    const giveBack = () => {
      // A beacon mostly goes out even when the page is being left.
      navigator.sendBeacon(path, new Blob(['{"want":"release"}'], { type: 'application/json' }));
    };
    const shown = (event: PageTransitionEvent) => {
      if (event.persisted) hold();
    };
    hold();
    const timer = setInterval(hold, RENEW_MS);
    window.addEventListener('pagehide', giveBack);
    window.addEventListener('pageshow', shown);
    return () => {
      gone = true;
      clearInterval(timer);
      window.removeEventListener('pagehide', giveBack);
      window.removeEventListener('pageshow', shown);
      giveBack();
    };
  }, [site, inspection]);
  return state;
}
