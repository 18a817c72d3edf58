import { scalePoints } from '../../../lib/photo/index.ts';
import type { PhotoScale } from '../../../lib/record/index.ts';

/** Points picked for a scale, and what they are. */
export interface Guide {
  readonly points: readonly [number, number][];
  readonly wanted: 2 | 4;
  readonly pairs?: boolean;
}

export const NO_GUIDE: Guide = { points: [], wanted: 2 };

/** The points that a scale was set by; null without a scale, and for a card, whose points were not picked. */
export function guideOf(scale: PhotoScale | null): Guide | null {
  if (scale === null || scale.source === 'scale card') return null;
  const points = scalePoints(scale).map(([x, y]): [number, number] => [x, y]);
  return { points, wanted: points.length === 2 ? 2 : 4, pairs: scale.source === 'two known lengths' };
}
