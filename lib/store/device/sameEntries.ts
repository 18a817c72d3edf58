import type { Entry } from '../../record/index.ts';

/**
 * Gives an entry as the same object at every reading. Entries do not change, so what was worked out from one is found
 * again by the object (folds, located references, sizes), where each reading of the database makes new ones.
 */
export function sameEntries(): { of(read: readonly Entry[]): Entry[]; forget(): void } {
  const known = new Map<string, Entry>();
  return {
    of: (read) =>
      read.map((entry) => {
        const before = known.get(entry.id);
        if (before !== undefined) return before;
        known.set(entry.id, entry);
        return entry;
      }),
    /** For when the content of an id may have been replaced: by the server’s, or by another tab. */
    forget: () => known.clear(),
  };
}
