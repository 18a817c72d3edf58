'use client';
import { useCallback, useEffect, useState } from 'react';
import { errorText, fail, ok, type Problem, problem, type Result } from '../../lib/base/index.ts';
import { formatOfPhoto } from '../../lib/imaging/browser/format.ts';
import { PHOTO_PIXELS_MAX, photoLabel, photoPixelsProblem, photoSizeProblem } from '../../lib/photo/index.ts';
import type { DevicePhoto, DeviceStore } from '../../lib/store/device/index.ts';
import { now } from './device.ts';
import { useWorkplace } from './Workplace.tsx';

const THUMB_WIDTH_PX = 320;

interface Decoded {
  readonly thumb: Blob | null;
  readonly view: Blob | null;
  readonly widthPx: number;
  readonly heightPx: number;
}

async function drawn(picture: ImageBitmap, width: number, type: string): Promise<Blob | null> {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.min(width, picture.width));
  canvas.height = Math.max(1, Math.round((picture.height * canvas.width) / picture.width));
  const context = canvas.getContext('2d');
  if (context === null) return null;
  context.imageSmoothingQuality = 'high';
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, type, 0.85));
}

/** Upright size and small picture of a photo; null when neither the browser nor our own decoder can read it here. */
async function decode(blob: Blob, format: string): Promise<Decoded | null> {
  let picture: ImageBitmap;
  let view: Blob | null = null;
  try {
    picture = await createImageBitmap(blob, { imageOrientation: 'from-image' });
  } catch {
    if (format !== 'heic') return null;
    let decoded: ImageBitmap | null = null;
    try {
      const { decodeHeic } = await import('../../lib/imaging/browser/heic.ts');
      decoded = await decodeHeic(blob, PHOTO_PIXELS_MAX);
    } catch (error) {
      // The decoder is loaded when it is first needed, which takes a connection; the photo is kept all the same.
      console.warn('This photo can be shown once the server has it:', error);
    }
    if (decoded === null) return null;
    picture = decoded;
    view = await drawn(picture, picture.width, 'image/jpeg');
  }
  const { width: widthPx, height: heightPx } = picture;
  const thumb = await drawn(picture, THUMB_WIDTH_PX, 'image/webp');
  picture.close();
  return { thumb, view, widthPx, heightPx };
}

async function check(
  file: File,
  onTaken: () => void,
): Promise<Result<{ name: string; decoded: Decoded | null }, Problem>> {
  const name = photoLabel(file.name);
  if (!name.ok) return name;
  const size = photoSizeProblem(file.size);
  if (size !== undefined) return fail(size);
  const format = await formatOfPhoto(file);
  if (!format.ok) return format;
  onTaken();
  const decoded = await decode(file, format.value);
  if (decoded === null && format.value !== 'heic' && format.value !== 'avif') {
    return fail(
      problem(
        'photo-damaged',
        'photo',
        name.value,
        'The photo cannot be decoded: the file is cut off or damaged',
        'Take the photo again or copy the file again.',
      ),
    );
  }
  const pixels = decoded === null ? undefined : photoPixelsProblem(decoded.widthPx, decoded.heightPx);
  return pixels === undefined ? ok({ name: name.value, decoded }) : fail(pixels);
}

/**
 * Keeps a photo on the device. One that cannot be evidence is kept too, with its problem, and is not sent.
 * `onTaken` is called as soon as the file is known to be a photo of a size that is taken, before it is decoded.
 * Fails only when the bytes cannot be read at all or the device has no room.
 */
export async function takePhoto(
  store: DeviceStore,
  site: string,
  file: File,
  onTaken: () => void,
): Promise<Result<DevicePhoto, Problem>> {
  const checked = await check(file, onTaken);
  const { decoded, name } = checked.ok ? checked.value : { decoded: null, name: 'photo' };
  try {
    // The bytes are copied: a chosen file may be changed or taken away before it is sent.
    const blob = new Blob([await file.arrayBuffer()], { type: file.type });
    return await store.addPhoto({
      site,
      name,
      blob,
      thumb: decoded?.thumb ?? null,
      view: decoded?.view ?? null,
      widthPx: decoded?.widthPx ?? null,
      heightPx: decoded?.heightPx ?? null,
      addedAt: now(),
      problem: checked.ok ? null : checked.error,
    });
  } catch (error) {
    const why = errorText(error);
    return fail(
      problem(
        'device-full',
        'photo',
        file.name,
        `The photo could not be kept: ${why}`,
        'Free some space on this device and take the photo again.',
      ),
    );
  }
}

/** An address of a blob for as long as a component shows it. */
function useBlobUrl(blob: Blob | null): string | null {
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    if (blob === null) {
      setUrl(null);
      return;
    }
    const made = URL.createObjectURL(blob);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [blob]);
  return url;
}

export interface PhotoSource {
  /** Null while it is looked up. */
  readonly url: string | null;
  readonly photo: DevicePhoto | null;
}

/** Where to show a photo from: the device when it has it, else the server. */
export function usePhoto(sha256: string, size: '320' | '2048'): PhotoSource {
  const { store, site } = useWorkplace();
  const [photo, setPhoto] = useState<DevicePhoto | null | undefined>(undefined);
  const look = useCallback(async () => {
    const found = (await store.photo(sha256)) ?? null;
    // The database gives a new object each time; the same photo keeps its first one, so that its address stays.
    setPhoto((known) =>
      known?.sha256 === found?.sha256 && known?.state === found?.state && known !== undefined ? known : found,
    );
  }, [store, sha256]);
  useEffect(() => {
    void look();
    return store.subscribe(() => void look());
  }, [store, look]);
  const local =
    photo === null || photo === undefined
      ? null
      : size === '320'
        ? photo.thumb
        : (photo.view ?? (photo.widthPx === null ? null : photo.blob));
  const blobUrl = useBlobUrl(local);
  if (photo === undefined) return { url: null, photo: null };
  if (local !== null) return { url: blobUrl, photo };
  return { url: `/api/v1/photos/${sha256}/${size}?site=${site.id}`, photo };
}
