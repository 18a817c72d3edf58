'use client';
import { useCallback, useEffect, useState } from 'react';
import { useWorkplace } from '../../../_client/Workplace.tsx';

/** Something being written that stays on the device until it is signed, whatever happens to the page. */
export function useDraftOf<T extends object>(key: string, empty: T): [T, (next: T) => void] {
  const { store } = useWorkplace();
  const [value, setValue] = useState(empty);
  useEffect(() => {
    let gone = false;
    void store.draft(key).then((text) => !gone && text !== '' && setValue(JSON.parse(text) as T));
    return () => {
      gone = true;
    };
  }, [store, key]);
  const keep = useCallback(
    (next: T) => {
      setValue(next);
      void store.setDraft(key, next === empty ? '' : JSON.stringify(next));
    },
    [store, key, empty],
  );
  return [value, keep];
}
