import type { Placing } from './placement.ts';
import type { Reference } from './reference.ts';
import { type Lines, sizeOn, type Taking } from './size.ts';

/** What a size depends on: the located reference, the placed surface and the picked points. */
export interface Model {
  readonly reference: Reference;
  readonly placing: Placing;
  readonly lines: Lines;
  readonly taking: Taking;
  /** Standard uncertainty of one coordinate of a picked point, px. */
  readonly pickU: number;
}

/** Chords this long, mm, are enough for how a size changes. */
export const THIN_CHORD_MM = 20;

/** The size at values of the reference’s unknowns and of the surface’s; null when a line of sight misses the surface. */
export function valueAt(
  { reference, placing, taking }: Model,
  values: readonly number[],
  unknowns: readonly number[],
  lines: Lines,
  chordMm?: number,
): number | null {
  const view = reference.viewOf(values);
  return sizeOn(placing.surfaceOf(view, unknowns), view.lens, lines, taking, chordMm);
}
