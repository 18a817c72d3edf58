'use client';
import { type Remote, wrap } from 'comlink';
import type { Problem, Result } from '../../lib/base/index.ts';
import type { CalibrationShot, CameraFit, Opening, Point } from '../../lib/photo/index.ts';
import type { FiguresNear } from '../../lib/record/index.ts';
import type { CardFinding, Eyes } from './vision.worker.ts';

export type { CardFinding } from './vision.worker.ts';

let eyes: Remote<Eyes> | null = null;

/** The worker that looks at photos; started when it is first needed, so that the screen never waits for it. */
function started(): Remote<Eyes> {
  eyes ??= wrap<Eyes>(new Worker(new URL('./vision.worker.ts', import.meta.url), { type: 'module' }));
  return eyes;
}

/** Starts the worker and loads its parts ahead of the first photo. */
export async function readyEyes(): Promise<void> {
  await started().ready();
}

/**
 * Finds the scale cards of a photo, off the main thread. `key` names the photo among others. Rejects when the photo
 * cannot be decoded here.
 */
export async function findCard(photo: Blob, key: string): Promise<CardFinding> {
  const start = performance.now();
  const found = await started().find(key, photo);
  performance.measure('find card', { start });
  return found;
}

/** Tells the key by which a photo is asked for from now on, so that it is not decoded again. */
export async function renamePhoto(from: string, to: string): Promise<void> {
  await started().rename(from, to);
}

/** Pulls the ends of spans, or the corners of an outline, to edges in the photo; sub-pixel. Fails naming the point. */
export async function pullToEdges(
  photo: Blob,
  key: string,
  points: readonly Point[],
  what: 'spans' | 'corners',
): Promise<Result<Point[], Problem>> {
  if (what === 'corners') return await started().pullCorners(key, photo, points);
  const pulled: Point[] = [];
  for (let i = 0; i + 1 < points.length; i += 2) {
    const [a, b] = [points[i], points[i + 1]];
    if (a === undefined || b === undefined) break;
    const ends = await started().pullSpan(key, photo, [a, b]);
    if (!ends.ok) return ends;
    pulled.push(...ends.value);
  }
  return { ok: true, value: pulled };
}

/** Opening of a crack along a trace, px, from the light across it. Fails where the photo does not resolve it. */
export async function openingAlong(
  photo: Blob,
  key: string,
  trace: readonly Point[],
): Promise<Result<Opening, Problem>> {
  return await started().opening(key, photo, trace);
}

/** How the photo shows the neighbourhood of points: blur, glare, black, brightness. */
export async function lookNear(
  photo: Blob,
  key: string,
  points: readonly Point[],
): Promise<Result<FiguresNear, Problem>> {
  return await started().near(key, photo, points);
}

/** Fits a camera to several shots of a card, off the main thread. Fails where they do not fix it. */
export async function fitShots(shots: readonly CalibrationShot[]): Promise<Result<CameraFit, Problem>> {
  return await started().fit(shots);
}
