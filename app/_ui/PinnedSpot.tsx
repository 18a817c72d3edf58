'use client';
import { useEffect, useRef, useState } from 'react';
import { usePhoto } from '../_client/photos.ts';
import { useWorkplace } from '../_client/Workplace.tsx';
import classes from './list.module.css';

/** Side of the piece that is shown, CSS px, and how much of the photo's shorter side it holds. */
const SIDE_PX = 280;
const SHOWN_SHARE = 0.4;

/** A piece of a photo round a spot, with a ring on the spot. `at` in px of the upright original. */
export function PinnedSpot({ photo, at: [x, y] }: { photo: string; at: readonly [number, number] }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const { url, photo: kept } = usePhoto(photo, '2048');
  const [failed, setFailed] = useState(false);
  const original = useOriginalWidth(photo, kept?.widthPx ?? null);
  useEffect(() => {
    if (url === null || original === null) return;
    let gone = false;
    const picture = new Image();
    picture.onload = () => {
      const pen = canvas.current?.getContext('2d');
      if (gone || pen == null) return;
      const scale = picture.naturalWidth / original;
      const side = SHOWN_SHARE * Math.min(picture.naturalWidth, picture.naturalHeight);
      const [left, top] = [x * scale - side / 2, y * scale - side / 2];
      pen.fillStyle = '#202427';
      pen.fillRect(0, 0, SIDE_PX, SIDE_PX);
      pen.drawImage(picture, left, top, side, side, 0, 0, SIDE_PX, SIDE_PX);
      for (const [width, colour] of [
        [7, 'rgba(8, 10, 12, 0.86)'],
        [3, '#ffd400'],
      ] as const) {
        pen.lineWidth = width;
        pen.strokeStyle = colour;
        pen.beginPath();
        pen.arc(SIDE_PX / 2, SIDE_PX / 2, 22, 0, 2 * Math.PI);
        pen.stroke();
      }
    };
    picture.onerror = () => gone || setFailed(true);
    picture.src = url;
    return () => {
      gone = true;
    };
  }, [url, original, x, y]);
  if (failed) return <small>The photo of this spot is not on this device.</small>;
  return (
    <canvas
      ref={canvas}
      className={classes.spot}
      width={SIDE_PX}
      height={SIDE_PX}
      role="img"
      aria-label="The spot on the photo that is asked about"
    />
  );
}

/** Width of the upright original, px: from the device, else from the entry that attached it. */
function useOriginalWidth(photo: string, kept: number | null): number | null {
  const { store, site } = useWorkplace();
  const [width, setWidth] = useState(kept);
  useEffect(() => {
    if (kept !== null) return setWidth(kept);
    let gone = false;
    void store.entriesOfKind(site.id, 'photo attached').then((entries) => {
      const found = entries.find((entry) => entry.body.photo === photo)?.body.widthPx;
      if (!gone && typeof found === 'number') setWidth(found);
    });
    return () => {
      gone = true;
    };
  }, [store, site.id, photo, kept]);
  return width;
}
