'use client';
import { type Remote, wrap } from 'comlink';
import type { Problem, Result } from '../../lib/base/index.ts';
import type { Alignment, PhotoMap, PictureSize, RimScene } from '../../lib/photo/index.ts';
import type { Aligner, LaidPictures } from './aligning.worker.ts';

export type { LaidPictures } from './aligning.worker.ts';

/** What the records say of the rim in both photos. */
type RimScenes = readonly [RimScene, RimScene];

let aligner: Remote<Aligner> | null = null;

/** The worker that lays photos over each other, so that the screen never waits for it; started when first needed. */
function started(): Remote<Aligner> {
  aligner ??= wrap<Aligner>(new Worker(new URL('./aligning.worker.ts', import.meta.url), { type: 'module' }));
  return aligner;
}

/** Longest side of what is drawn, px. */
const SHOWN_PX = 1600;

/**
 * Lays two photos over each other by what both show, over the rim’s surface where both records tell of it. The bytes may
 * be smaller copies; scenes and answer are in px of the originals, whose sizes are given. Rejects when a photo cannot be
 * decoded here.
 */
export async function alignFar(
  first: Blob,
  second: Blob,
  sizes: readonly [PictureSize, PictureSize],
  rims: RimScenes | null,
): Promise<Result<Alignment, Problem>> {
  return await started().align(first, second, sizes, rims);
}

/** The pictures of a pair, the second laid over the first. Close them when done with. */
export async function layFar(first: Blob, second: Blob, map: PhotoMap): Promise<LaidPictures> {
  return await started().lay(first, second, map, SHOWN_PX);
}

/** Both photos upright, to pick points on. Close them when done with. */
export async function bothFar(first: Blob, second: Blob): Promise<[ImageBitmap, ImageBitmap]> {
  return await started().both(first, second, SHOWN_PX);
}
