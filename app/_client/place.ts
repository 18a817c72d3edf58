'use client';
import { useCallback, useSyncExternalStore } from 'react';

/**
 * Where a screen is, held in the address's query, so that a reload comes back to it and the shell of the screen
 * stays one static page that works without a network.
 */
function subscribe(listener: () => void): () => void {
  window.addEventListener('popstate', listener);
  window.addEventListener('rimbook:place', listener);
  return () => {
    window.removeEventListener('popstate', listener);
    window.removeEventListener('rimbook:place', listener);
  };
}

export interface Place {
  get(key: string): string | null;
  /** Goes to the same screen with these keys changed; null removes a key. A step back undoes it. */
  go(changes: Readonly<Record<string, string | null>>): void;
}

export function usePlace(): Place {
  const search = useSyncExternalStore(
    subscribe,
    () => window.location.search,
    () => '',
  );
  const get = useCallback((key: string) => new URLSearchParams(search).get(key), [search]);
  const go = useCallback((changes: Readonly<Record<string, string | null>>) => {
    const params = new URLSearchParams(window.location.search);
    for (const [key, value] of Object.entries(changes)) {
      if (value === null) params.delete(key);
      else params.set(key, value);
    }
    window.history.pushState(null, '', `${window.location.pathname}?${params}`);
    window.dispatchEvent(new Event('rimbook:place'));
    window.scrollTo(0, 0);
  }, []);
  return { get, go };
}
