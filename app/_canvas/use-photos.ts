import { useEffect, useState } from 'react';
import type { Easel } from './easel.ts';
import { closePhoto, hasProportions, openPhoto, type PhotoLevels, PhotoProblem } from './photo.ts';
import type { PhotoCanvasProps } from './types.ts';

/** How far the opening of the photo has come. */
export interface PhotoState {
  readonly open: boolean;
  /** A sentence for the person, or null. */
  readonly problem: string | null;
  readonly retry: () => void;
}

const WRONG_PROPORTIONS =
  'This picture does not have the proportions noted for the photo, so marks would lie in the wrong places.';

type Slot = 'photo' | 'ghost';

function sentence(cause: unknown): string {
  return cause instanceof PhotoProblem ? cause.message : 'The photo could not be opened.';
}

/** Opens the photo and the earlier one laid over it, gives them to the easel, and closes them when done with. */
export function usePhotos(easel: Easel, props: PhotoCanvasProps, repaint: () => void): PhotoState {
  const photo = useSlot(easel, 'photo', props.photoUrl, repaint);
  const ghost = useSlot(easel, 'ghost', props.ghost?.url ?? null, repaint);
  const ghostProblem = ghost.problem && `The earlier photo is missing. ${ghost.problem}`;
  return {
    open: photo.open,
    problem: photo.problem ?? ghostProblem,
    retry: photo.problem ? photo.retry : ghost.retry,
  };
}

function useSlot(easel: Easel, slot: Slot, url: string | null, repaint: () => void): PhotoState {
  const [attempt, setAttempt] = useState(0);
  const [state, setState] = useState<{ url: string | null; problem: string | null } | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new attempt opens the same address again; repaint is stable in effect
  useEffect(() => {
    if (url === null) return;
    const ending = new AbortController();
    let opened: PhotoLevels | null = null;
    openPhoto(url, ending.signal).then(
      (levels) => {
        if (ending.signal.aborted) {
          closePhoto(levels);
          return;
        }
        const { widthPx, heightPx } = easel.props;
        if (slot === 'photo' && !hasProportions(levels, widthPx, heightPx)) {
          closePhoto(levels);
          setState({ url, problem: WRONG_PROPORTIONS });
          return;
        }
        opened = levels;
        easel[slot] = levels;
        setState({ url, problem: null });
        repaint();
      },
      (cause: unknown) => {
        if (!ending.signal.aborted) setState({ url, problem: sentence(cause) });
      },
    );
    return () => {
      ending.abort(new DOMException('The photo is no longer wanted', 'AbortError'));
      setState(null);
      if (opened === null) return;
      easel[slot] = null;
      closePhoto(opened);
      repaint();
    };
  }, [easel, slot, url, attempt]);
  const current = state?.url === url ? state : null;
  return {
    open: current !== null && current.problem === null,
    problem: current?.problem ?? null,
    retry: () => setAttempt((before) => before + 1),
  };
}
