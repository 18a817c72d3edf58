import type { z } from 'zod';
import type { Entry } from './entry.ts';
import { mergeEntries } from './merge.ts';
import { bodyOf, isReadable, kinds } from './registry.ts';
import type { Written } from './written.ts';

export type PhotosAligned = z.infer<typeof kinds.photosAligned.body>;

/** Names a pair of photos, whichever comes first. */
export const photoPairKey = (one: string, other: string): string => [one, other].sort().join(' ');

/**
 * How photos were laid over each other: of each pair the newest, whichever of the two it started from. Other entries are
 * passed over; order and repetition do not matter.
 */
export function foldAlignments(entries: readonly Entry[]): ReadonlyMap<string, Written<PhotosAligned>> {
  const newest = new Map<string, Written<PhotosAligned>>();
  for (const entry of mergeEntries(entries)) {
    if (entry.kind !== kinds.photosAligned.kind || !isReadable(entry)) continue;
    const value = bodyOf(entry) as PhotosAligned;
    newest.set(photoPairKey(value.from.photo, value.to.photo), {
      value,
      entry: entry.id,
      at: entry.at,
      author: entry.author,
    });
  }
  return newest;
}
