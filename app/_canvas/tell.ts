import type { Outcome } from '../../lib/marks/index.ts';
import type { PhotoCanvasProps } from './types.ts';

/** Passes an outcome to the one who keeps the record; gives back its promise where it makes one. */
export function tellOutcome(props: PhotoCanvasProps, outcome: Outcome): void | Promise<void> {
  switch (outcome.kind) {
    case 'drawn':
      return props.onDrawn(outcome.shape, outcome.tool);
    case 'redrawn':
      return props.onRedrawn(outcome.mark, outcome.shape);
    case 'withdrawn':
      return props.onWithdraw(outcome.mark);
    case 'selected':
      return props.onSelect(outcome.mark);
    case 'refused':
      return props.onRefused?.(outcome.problem);
  }
}
