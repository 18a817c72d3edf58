import { counted } from '../base/index.ts';

const DAY_MS = 86_400_000;

/** Whole days between two moments, ISO 8601 in UTC; 0 when the second is not later. */
export function daysWaited(since: string, now: string): number {
  return Math.max(0, Math.floor((Date.parse(now) - Date.parse(since)) / DAY_MS));
}

/** How long something has waited, in words. */
export function waitedWords(since: string, now: string): string {
  const days = daysWaited(since, now);
  return days === 0 ? 'waiting less than a day' : `waiting ${counted(days, 'day')}`;
}
