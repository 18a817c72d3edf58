import { useEffect, useRef, useState } from 'react';
import { errorText } from '../../../lib/base/index.ts';
import { CALIBRATION_CORNERS_MIN, type CalibrationShot, shotOfCard } from '../../../lib/photo/index.ts';
import { newId } from '../../_client/device.ts';
import { type CardFinding, findCard } from '../../_client/vision.ts';

/** How looking for the card in a photo went. */
export type Look =
  | { readonly state: 'looking' }
  | { readonly state: 'found'; readonly finding: CardFinding }
  | { readonly state: 'failed'; readonly why: string };

export interface CardPhoto {
  readonly key: string;
  readonly name: string;
  readonly look: Look;
}

/** Photos chosen for fitting the camera; each is looked at once, one after the other, and kept only by this screen. */
export function useCardPhotos() {
  const [photos, setPhotos] = useState<readonly CardPhoto[]>([]);
  const queue = useRef<Promise<void>>(Promise.resolve());
  const left = useRef(new Set<string>());
  const gone = useRef(false);
  useEffect(() => {
    gone.current = false;
    return () => {
      gone.current = true;
    };
  }, []);
  const lookAt = async (key: string, file: File): Promise<void> => {
    if (gone.current || left.current.has(key)) return;
    const look = await findCard(file, key).then(
      (finding): Look => ({ state: 'found', finding }),
      (error: unknown): Look => ({
        state: 'failed',
        why: errorText(error),
      }),
    );
    setPhotos((known) => known.map((one) => (one.key === key ? { ...one, look } : one)));
  };
  return {
    photos,
    add(files: readonly File[]) {
      const added = files.map((file) => ({ file, key: newId() }));
      setPhotos((known) => [
        ...known,
        ...added.map(({ file, key }): CardPhoto => ({ key, name: file.name, look: { state: 'looking' } })),
      ]);
      for (const { file, key } of added) queue.current = queue.current.then(() => lookAt(key, file));
    },
    remove(key: string) {
      left.current.add(key);
      setPhotos((known) => known.filter((one) => one.key !== key));
    },
  };
}

/** The card with the most markers in each photo, where enough of it was found to be of use. */
export function shotsOf(photos: readonly CardPhoto[]): CalibrationShot[] {
  return photos.flatMap(({ name, look }) => {
    const card = look.state === 'found' ? look.finding.cards[0] : undefined;
    if (look.state !== 'found' || card === undefined) return [];
    const shot = shotOfCard(name, look.finding, card);
    return shot.mm.length < CALIBRATION_CORNERS_MIN ? [] : [shot];
  });
}

/** What was found in a photo, in a sentence. */
export function wordsOf(look: Look): string {
  if (look.state === 'looking') return 'Waiting to be looked at …';
  if (look.state === 'failed') return `Could not be looked at: ${look.why}`;
  const [card] = look.finding.cards;
  if (card === undefined) return 'No card seen in it, so it is not used.';
  const count = card.markers.length;
  const name = card.layout.charAt(0).toUpperCase() + card.layout.slice(1);
  if (count === 1) return `${name}, 1 of 4 markers: too little to be used.`;
  return count === 4 ? `${name}, all 4 markers.` : `${name}, ${count} of 4 markers.`;
}
