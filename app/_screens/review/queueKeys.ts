'use client';
import { type RefObject, useEffect } from 'react';

/** The keys of the queue and what they do; `?` shows this list. */
export const KEYS: readonly (readonly [keys: string, what: string])[] = [
  ['j or ↓', 'next inspection'],
  ['k or ↑', 'inspection before'],
  ['Enter', 'open it'],
  ['a', 'take its review on'],
  ['/', 'go to the filters'],
  ['?', 'show these keys; again or Esc to hide them'],
];

const ON = 'rimbook.keys';

/** Whether single keys act on this device; they can be switched off for people who speak to their device. */
export function keysAreOn(): boolean {
  return localStorage.getItem(ON) !== 'off';
}

/** Switches single keys on or off on this device. */
export function switchKeys(on: boolean): void {
  localStorage.setItem(ON, on ? 'on' : 'off');
}

export interface QueueActs {
  readonly take: (id: string) => void;
  readonly toFilters: () => void;
  /** Null turns it round. */
  readonly showKeys: (shown: boolean | null) => void;
}

/** The rows of a list: its links that name an inspection, in their order. */
function rowsIn(list: HTMLElement | null): HTMLElement[] {
  return [...(list?.querySelectorAll<HTMLElement>('a[data-inspection]') ?? [])];
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    target.closest('input:not([type="checkbox"]), select, textarea, [contenteditable]') !== null
  );
}

/** The row of the list in which the focus is. */
function rowWithFocus(list: HTMLElement | null): HTMLElement | null {
  const item = document.activeElement?.closest('li');
  return item === undefined || item === null || list?.contains(item) !== true
    ? null
    : item.querySelector<HTMLElement>('a[data-inspection]');
}

/**
 * Moves through the rows of a list and acts on them by keys. Arrows move only once a row has the focus, so that they scroll
 * the page before; nothing is taken from fields, and Tab goes its own way.
 */
export function useQueueKeys(list: RefObject<HTMLElement | null>, acts: QueueActs): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      if (isTyping(event.target)) return;
      if (event.key === 'Escape') acts.showKeys(false);
      const row = rowWithFocus(list.current);
      const arrow = event.key === 'ArrowDown' || event.key === 'ArrowUp';
      if (arrow ? row === null : !keysAreOn()) return;
      if (actOn(event.key, row, rowsIn(list.current), acts)) event.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [list, acts]);
}

/** Does what a key says; whether it says anything. */
function actOn(key: string, row: HTMLElement | null, rows: readonly HTMLElement[], acts: QueueActs): boolean {
  switch (key) {
    case 'j':
    case 'ArrowDown':
      (rows[row === null ? 0 : rows.indexOf(row) + 1] ?? row)?.focus();
      return true;
    case 'k':
    case 'ArrowUp':
      (rows[row === null ? 0 : rows.indexOf(row) - 1] ?? row)?.focus();
      return true;
    case 'a':
      if (row?.dataset.inspection !== undefined) acts.take(row.dataset.inspection);
      return row !== null;
    case '/':
      acts.toFilters();
      return true;
    case '?':
      acts.showKeys(null);
      return true;
    default:
      return false;
  }
}
