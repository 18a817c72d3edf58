'use client';
import { useEffect, useRef } from 'react';

/** What a key does, in words for the list of keys. */
export interface KeyAct {
  readonly key: string;
  readonly words: string;
  act(): void;
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName))
  );
}

/**
 * Single keys for the whole screen, as long as nobody is typing; Escape leaves a field. Keys with Ctrl, Alt or Meta stay
 * the browser's.
 */
export function useKeys(acts: readonly KeyAct[]): void {
  const newest = useRef(acts);
  newest.current = acts;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      if (isTyping(event.target)) {
        if (event.key === 'Escape') (event.target as HTMLElement).blur();
        return;
      }
      const found = newest.current.find(({ key }) => key === event.key);
      if (found === undefined) return;
      event.preventDefault();
      found.act();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);
}
