'use client';
import { useEffect, useState } from 'react';
import type { DeviceStore } from '../../lib/store/device/index.ts';

/** Reads something from the store now and after every change of it. */
export function useStored<T>(store: DeviceStore, read: () => Promise<T>, initial: T): T {
  const [value, setValue] = useState(initial);
  useEffect(() => {
    let gone = false;
    let reading = false;
    let again = false;
    const refresh = async () => {
      if (reading) {
        again = true;
        return;
      }
      reading = true;
      do {
        again = false;
        const next = await read();
        if (!gone) setValue(next);
      } while (again && !gone);
      reading = false;
    };
    void refresh();
    const stop = store.subscribe(() => void refresh());
    return () => {
      gone = true;
      stop();
    };
  }, [store, read]);
  return value;
}
