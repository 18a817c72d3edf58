import type { Easel } from './easel.ts';
import type { PhotoCanvasHandle } from './types.ts';

/** The handle of an easel for the page around it. */
export function handleOf(easel: Easel, focus: () => void): PhotoCanvasHandle {
  return {
    fit: () => easel.fit(),
    actualSize: () => easel.zoomTo(1),
    zoomBy: (factor) => easel.zoomTo(easel.view.scale * factor),
    zoomToMark: (mark) => easel.zoomToMark(mark),
    finish: () => easel.dispatch({ kind: 'finish' }),
    cancel: () => easel.dispatch({ kind: 'cancel' }),
    stepBack: () => easel.stepBack(),
    remove: () => {
      easel.settle();
      easel.dispatch({ kind: 'remove' });
    },
    focus,
  };
}
