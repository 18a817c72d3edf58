'use client';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { errorText, type Problem, problem } from '../../../lib/base/index.ts';
import { mapOfEntry, type Way } from '../../../lib/history/index.ts';
import {
  type Alignment,
  type PhotoMap,
  PICK_BY_HAND,
  type PictureSize,
  type RimScene,
} from '../../../lib/photo/index.ts';
import { type Entry, foldAlignments, photoPairKey } from '../../../lib/record/index.ts';
import { alignFar, bothFar, type LaidPictures, layFar } from '../../_client/aligning.ts';
import { usePhoto } from '../../_client/photos.ts';
import { useStored } from '../../_client/useStored.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';
import type { Side } from './usePair.ts';

/** How the pair is laid: found here and now, or kept in the record by somebody. */
export interface Laid {
  readonly alignment: Alignment;
  /** Which way the map goes from the earlier photo to the later one. */
  readonly way: Way;
  /** Null: nobody has kept it. */
  readonly kept: { readonly author: string; readonly at: string } | null;
}

export type Laying =
  | { readonly state: 'waiting'; readonly what: string }
  | { readonly state: 'refused'; readonly problem: Problem }
  | { readonly state: 'laid'; readonly laid: Laid };

const NO_ENTRIES: Entry[] = [];

/** Size of a photo as attached, px; null where nobody could decode it yet. */
export function sizeOfSide({ inspection, photo }: Side): PictureSize | null {
  const { widthPx, heightPx } = inspection.photos.get(photo)?.value ?? {};
  return widthPx && heightPx ? { widthPx, heightPx } : null;
}

/** The bytes of a photo to look at: the device’s, or the server’s copy of 2048 px. */
export function useBytes(photo: string): { blob: Blob | null; missing: boolean } {
  const { url } = usePhoto(photo, '2048');
  const [read, setRead] = useState<{ url: string; blob: Blob | null } | null>(null);
  useEffect(() => {
    if (url === null) return;
    let gone = false;
    fetch(url)
      .then((reply) => (reply.ok ? reply.blob() : null))
      .catch(() => null)
      .then((blob) => gone || setRead({ url, blob }));
    return () => {
      gone = true;
    };
  }, [url]);
  const here = read?.url === url ? read : null;
  return { blob: here?.blob ?? null, missing: here !== null && here.blob === null };
}

/** The newest alignment of the pair in the record of its part. */
function useKept(component: string | null, [first, second]: readonly [Side, Side]): Laid | null {
  const { store } = useWorkplace();
  const read = useCallback(
    () => (component === null ? Promise.resolve(NO_ENTRIES) : store.entriesOf('component', component)),
    [store, component],
  );
  const entries = useStored(store, read, NO_ENTRIES);
  return useMemo(() => {
    const kept = foldAlignments(entries).get(photoPairKey(first.photo, second.photo));
    if (kept === undefined) return null;
    const { value, author, at } = kept;
    const { method, medianPx, p95Px, inliers, overlapShare } = value;
    const alignment = { map: mapOfEntry(value), method, medianPx, p95Px, inliers, overlapShare };
    return { alignment, way: value.from.photo === first.photo ? 'forth' : 'back', kept: { author, at } };
  }, [entries, first.photo, second.photo]);
}

const NOT_HERE = problem(
  'compare-photo',
  'photo',
  '',
  'A photo of this pair is not on this device and could not be fetched',
  'Open this page again with a connection.',
);

/** The pair laid over each other: as kept in the record, by hand as just picked, or found by the worker. */
export function useLaying(
  component: string | null,
  pair: readonly [Side, Side],
  bytes: readonly [Blob | null, Blob | null],
  byHand: Alignment | null,
  anew: boolean,
  rims: readonly [RimScene, RimScene] | null,
): Laying {
  const kept = useKept(component, pair);
  const [first, second] = bytes;
  const [from, to] = [sizeOfSide(pair[0]), sizeOfSide(pair[1])];
  const [found, setFound] = useState<{ key: string; laying: Laying } | null>(null);
  const key = `${pair[0].photo} ${pair[1].photo}`;
  const use = byHand !== null || (kept !== null && !anew);
  const [fw, fh, tw, th] = [from?.widthPx, from?.heightPx, to?.widthPx, to?.heightPx];
  useEffect(() => {
    if (use || first === null || second === null || !fw || !fh || !tw || !th) return;
    let gone = false;
    const sizes = [
      { widthPx: fw, heightPx: fh },
      { widthPx: tw, heightPx: th },
    ] as const;
    alignFar(first, second, sizes, rims)
      .then((result): Laying => {
        return result.ok
          ? { state: 'laid', laid: { alignment: result.value, way: 'forth', kept: null } }
          : { state: 'refused', problem: result.error };
      })
      .catch((error: unknown): Laying => {
        const why = errorText(error);
        return {
          state: 'refused',
          problem: problem(
            'compare-failed',
            'photo',
            '',
            `The photos could not be compared: ${why}`,
            PICK_BY_HAND,
          ),
        };
      })
      .then((laying) => gone || setFound({ key, laying }));
    return () => {
      gone = true;
    };
  }, [use, first, second, fw, fh, tw, th, key, rims]);
  if (byHand !== null) return { state: 'laid', laid: { alignment: byHand, way: 'forth', kept: null } };
  if (kept !== null && !anew) return { state: 'laid', laid: kept };
  if (from === null || to === null) return { state: 'refused', problem: NOT_HERE };
  return found?.key === key
    ? found.laying
    : { state: 'waiting', what: 'Looking for what both photos show …' };
}

/** The map from the earlier photo to the later one, whichever way it was made; null where it cannot be turned. */
export function useLaidPictures(
  laid: Laid | null,
  first: Blob | null,
  second: Blob | null,
): LaidPictures | null {
  const [pictures, setPictures] = useState<{ map: PhotoMap; laid: LaidPictures } | null>(null);
  const [map, way] = [laid?.alignment.map ?? null, laid?.way ?? 'forth'];
  useEffect(() => {
    if (map === null || first === null || second === null) return;
    let gone = false;
    // The worker lays the second over the first; a map made the other way starts from the later photo.
    const [base, other] = way === 'forth' ? [first, second] : [second, first];
    layFar(base, other, map).then(
      (made) => (gone ? close(made) : setPictures({ map, laid: made })),
      () => gone || setPictures(null),
    );
    return () => {
      gone = true;
    };
  }, [map, way, first, second]);
  useEffect(() => () => (pictures === null ? undefined : close(pictures.laid)), [pictures]);
  return pictures !== null && pictures.map === map ? pictures.laid : null;
}

function close({ first, second, over, difference }: LaidPictures): void {
  for (const bitmap of [first, second, over, difference]) bitmap.close();
}

/** Both photos by themselves. */
export function useBoth(first: Blob | null, second: Blob | null): readonly [ImageBitmap, ImageBitmap] | null {
  const [both, setBoth] = useState<readonly [ImageBitmap, ImageBitmap] | null>(null);
  useEffect(() => {
    if (first === null || second === null) return;
    let gone = false;
    let made: readonly [ImageBitmap, ImageBitmap] | null = null;
    bothFar(first, second).then(
      (pair) => {
        if (gone) for (const bitmap of pair) bitmap.close();
        else {
          made = pair;
          setBoth(pair);
        }
      },
      () => undefined,
    );
    return () => {
      gone = true;
      setBoth(null);
      for (const bitmap of made ?? []) bitmap.close();
    };
  }, [first, second]);
  return both;
}
