'use client';
import { type Remote, wrap } from 'comlink';
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

/** Finds the scale cards of a photo, off the main thread. Rejects when the photo cannot be decoded here. */
export async function findCard(photo: Blob): Promise<CardFinding> {
  return await started().find(photo);
}
