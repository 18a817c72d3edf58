'use client';
import { type Remote, wrap } from 'comlink';
import type { Problem, Result } from '../../lib/base/index.ts';
import { type Alignment, mapAtSize, type PhotoMap, type PictureSize } from '../../lib/photo/index.ts';
import type { Aligner, LaidPictures } from './aligning.worker.ts';

export type { LaidPictures } from './aligning.worker.ts';

let aligner: Remote<Aligner> | null = null;

/** The worker that lays photos over each other, so that the screen never waits for it; started when first needed. */
function started(): Remote<Aligner> {
  aligner ??= wrap<Aligner>(new Worker(new URL('./aligning.worker.ts', import.meta.url), { type: 'module' }));
  return aligner;
}

/** Longest side of what is drawn, px. */
const SHOWN_PX = 1600;

/**
 * Lays two photos over each other by what both show. The bytes may be smaller copies; the answer is in px of the sizes
 * given. Rejects when a photo cannot be decoded here.
 */
export async function alignFar(
  first: Blob,
  second: Blob,
  from: PictureSize,
  to: PictureSize,
): Promise<Result<Alignment, Problem>> {
  const found = await started().align(first, second);
  if (!found.ok) return found;
  const factor = to.widthPx / found.value.map.to.widthPx;
  const larger = (px: number | null) => (px === null ? null : px * factor);
  return {
    ok: true,
    value: {
      ...found.value,
      map: mapAtSize(found.value.map, from, to),
      medianPx: larger(found.value.medianPx),
      p95Px: larger(found.value.p95Px),
    },
  };
}

/** The pictures of a pair, the second laid over the first. Close them when done with. */
export async function layFar(first: Blob, second: Blob, map: PhotoMap): Promise<LaidPictures> {
  return await started().lay(first, second, map, SHOWN_PX);
}

/** Both photos upright, to pick points on. Close them when done with. */
export async function bothFar(first: Blob, second: Blob): Promise<[ImageBitmap, ImageBitmap]> {
  return await started().both(first, second, SHOWN_PX);
}
