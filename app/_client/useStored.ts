'use client';
import { useEffect, useState } from 'react';
import type { DeviceStore } from '../../lib/store/device/index.ts';

/** Whether two readings say the same: the same value, or lists or records of the same values. */
function isSame(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (!isPlain(a) || !isPlain(b) || Array.isArray(a) !== Array.isArray(b)) return false;
  const [inA, inB] = [Object.entries(a), Object.entries(b)];
  return (
    inA.length === inB.length &&
    inA.every(([key, value]) => key in b && Object.is(value, b[key as keyof typeof b]))
  );
}

/** A list or a record, whose parts are all there is to it. */
function isPlain(value: unknown): value is object {
  if (typeof value !== 'object' || value === null) return false;
  return Array.isArray(value) || Object.getPrototypeOf(value) === Object.prototype;
}

/** Reads something from the store now and after every change of it; a reading that says the same keeps the value. */
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
        if (!gone) setValue((before) => (isSame(before, next) ? before : next));
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
