import { useEffect, useState } from 'react';
import type { Problem } from '../../../lib/base/index.ts';
import { errorText, problem } from '../../../lib/base/index.ts';
import { profileForPhoto } from '../../../lib/photo/index.ts';
import type { PhotoCamera } from '../../../lib/record/index.ts';
import { storedProfile } from '../../_client/device.ts';
import { type CardFinding, findCard, renamePhoto } from '../../_client/vision.ts';
import { useWorkplace } from '../../_client/Workplace.tsx';

export type Looking =
  | { readonly state: 'looking' }
  | { readonly state: 'done'; readonly finding: CardFinding }
  | { readonly state: 'failed'; readonly problem: Problem };

/** Bytes of a photo: from the device when it has them, else the original from the server. */
export function usePhotoBytes(photo: string): () => Promise<Blob> {
  const { store, site } = useWorkplace();
  return async () => {
    const kept = await store.photo(photo);
    if (kept !== undefined) return kept.blob;
    const reply = await fetch(`/api/v1/photos/${photo}/original?site=${site.id}`);
    if (!reply.ok) throw new Error(`The server answered ${reply.status}`);
    return await reply.blob();
  };
}

const found = new Map<string, Promise<CardFinding>>();
const KEPT = 24;

function remember(photo: string, finding: Promise<CardFinding>): void {
  found.set(photo, finding);
  if (found.size > KEPT) found.delete([...found.keys()][0] ?? '');
}

let ahead = 0;

/**
 * Starts looking for the card while a new photo is still being kept, so that the answer comes at once. Call what it
 * gives back with the photo’s hash when that is known; a photo that is refused meanwhile is forgotten.
 */
export function lookAhead(photo: Blob): (hash: string) => void {
  ahead += 1;
  const name = `ahead ${ahead}`;
  const finding = findCard(photo, name);
  // Whoever shows the photo tells a failure.
  finding.catch(() => undefined);
  return (hash) => {
    remember(hash, finding);
    // Whoever shows the photo tells a failure; without the name it is only decoded again.
    void finding.then(() => renamePhoto(name, hash)).catch(() => undefined);
  };
}

/** Looks once for the scale card of a photo, in a worker; what was found is kept while the page is open. */
export function useCardFinding(photo: string): Looking {
  const bytes = usePhotoBytes(photo);
  const [looking, setLooking] = useState<Looking>({ state: 'looking' });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the way to the bytes is new at each rendering, the photo is not.
  useEffect(() => {
    let gone = false;
    setLooking({ state: 'looking' });
    const known = found.get(photo) ?? bytes().then((blob) => findCard(blob, photo));
    remember(photo, known);
    known.then(
      (finding) => !gone && setLooking({ state: 'done', finding }),
      (error: unknown) => {
        found.delete(photo);
        if (!gone) setLooking({ state: 'failed', problem: notLookedAt(photo, error) });
      },
    );
    return () => {
      gone = true;
    };
  }, [photo]);
  return looking;
}

function notLookedAt(photo: string, error: unknown): Problem {
  return problem(
    'photo-not-looked-at',
    'photo',
    photo.slice(0, 8),
    `The photo could not be searched for a scale card: ${errorText(error)}`,
    'Set the scale by hand, or open the photo again with a connection.',
  );
}

/** What is known of the camera of a photo that was looked at. */
export function cameraOf(looking: Looking, size: { widthPx: number; heightPx: number }): PhotoCamera {
  const { widthPx, heightPx } = size;
  const focal35Mm = looking.state === 'done' ? looking.finding.focal35Mm : null;
  const photo = { widthPx, heightPx, focal35Mm };
  return { ...photo, profile: profileForPhoto(storedProfile(), photo) };
}
