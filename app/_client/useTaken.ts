'use client';
import { useEffect, useReducer } from 'react';
import type { PhotoScene, Placed } from '../../lib/photo/index.ts';
import { knownMeasure, measureFar } from './measuring.ts';

/**
 * Takes sizes in the worker, so that the screen stays awake; true when all are there. Give the same list as long as the
 * same sizes are wanted.
 */
export function useTaken(
  wanted: readonly { readonly scene: PhotoScene; readonly placed: Placed }[],
): boolean {
  const [, arrived] = useReducer((count: number) => count + 1, 0);
  useEffect(() => {
    const open = wanted.filter(({ scene, placed }) => knownMeasure(scene, placed) === undefined);
    if (open.length === 0) return;
    let gone = false;
    void Promise.all(open.map(({ scene, placed }) => measureFar(scene, placed))).then(
      () => gone || arrived(),
    );
    return () => {
      gone = true;
    };
  }, [wanted]);
  return wanted.every(({ scene, placed }) => knownMeasure(scene, placed) !== undefined);
}
