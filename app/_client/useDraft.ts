'use client';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { useWorkplace } from './Workplace.tsx';

/** Text being written that stays on the device until it is entered, whatever happens to the page. */
export function useDraft(key: string, initial = ''): readonly [string, (text: string) => Promise<void>] {
  const { store } = useWorkplace();
  const [text, setText] = useState(initial);
  useEffect(() => {
    let gone = false;
    void store.draft(key).then((kept) => !gone && kept !== '' && setText(kept));
    return () => {
      gone = true;
    };
  }, [store, key]);
  const keep = useCallback(
    (next: string) => {
      setText(next);
      return store.setDraft(key, next);
    },
    [store, key],
  );
  return [text, keep];
}

/** The same of several things that are written together; `empty` stands for none of them. */
export function useDraftOf<T extends object>(key: string, empty: T): readonly [T, (next: T) => void] {
  const [text, keep] = useDraft(key);
  const value = useMemo(() => (text === '' ? empty : (JSON.parse(text) as T)), [text, empty]);
  const keepValue = useCallback(
    (next: T) => void keep(next === empty ? '' : JSON.stringify(next)),
    [keep, empty],
  );
  return [value, keepValue];
}
