'use client';
import { useSyncExternalStore } from 'react';
import type { UnitPreference } from '../../lib/units/index.ts';

const SHOW = 'rimbook.show';
const CHANGED = 'rimbook:units';

function subscribe(listener: () => void): () => void {
  window.addEventListener(CHANGED, listener);
  window.addEventListener('storage', listener);
  return () => {
    window.removeEventListener(CHANGED, listener);
    window.removeEventListener('storage', listener);
  };
}

function shown(): UnitPreference {
  return localStorage.getItem(SHOW) === 'imperial' ? 'imperial' : 'metric';
}

/** Units that sentences and limits are shown in on this device, and the way to change them. */
export function useUnits(): [UnitPreference, (units: UnitPreference) => void] {
  const units = useSyncExternalStore(subscribe, shown, () => 'metric' as const);
  return [
    units,
    (next) => {
      localStorage.setItem(SHOW, next);
      window.dispatchEvent(new Event(CHANGED));
    },
  ];
}
