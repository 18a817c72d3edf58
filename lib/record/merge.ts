import { canonicalJson } from '../base/index.ts';
import type { Entry } from './entry.ts';

/**
 * Merges sets of entries: a union by id. Should one id come with two contents (only a fault can do that),
 * the content whose canonical JSON sorts first is kept, so that every device keeps the same one.
 * Order of the result: device time, then id. Idempotent, commutative and associative.
 */
export function mergeEntries<E extends Entry>(...sets: readonly (readonly E[])[]): E[] {
  const byId = new Map<string, E>();
  for (const set of sets) {
    for (const entry of set) {
      const known = byId.get(entry.id);
      if (known === undefined || known === entry) byId.set(entry.id, entry);
      else if (canonicalJson(entry) < canonicalJson(known)) byId.set(entry.id, entry);
    }
  }
  return [...byId.values()].sort(byTimeThenId);
}

/** Order of folding: device time, then id. ISO times in UTC with milliseconds compare as text. */
export function byTimeThenId(a: Entry, b: Entry): number {
  if (a.at !== b.at) return a.at < b.at ? -1 : 1;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}
