'use client';
import { useState } from 'react';
import { usePhoto } from '../_client/photos.ts';

/** A small picture of a photo; says so where it cannot be shown yet. */
export function PhotoThumb({ sha256, name }: { sha256: string; name: string }) {
  const { url } = usePhoto(sha256, '320');
  const [failed, setFailed] = useState<string | null>(null);
  if (url === null) return null;
  if (failed === url) return <small>Not shown here yet: {name}</small>;
  return (
    // biome-ignore lint/performance/noImgElement: derivatives are made by our own server, and blobs have no other way
    <img src={url} alt={`Photo: ${name}`} loading="lazy" decoding="async" onError={() => setFailed(url)} />
  );
}
