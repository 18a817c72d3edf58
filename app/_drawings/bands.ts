import { must } from '../../lib/base/index.ts';
import type { Class } from '../../lib/rules/index.ts';
import { type Bounds, boundsAsSize, type LimitRow } from '../../lib/tolerances/index.ts';

/** A stretch of the scale in which a reading by itself has one class; mm or mm². */
export interface Band {
  readonly from: number;
  readonly to: number;
  readonly class: Class;
}

/** A limit as bands on a scale. */
export interface Bands {
  readonly from: number;
  readonly to: number;
  readonly bands: readonly Band[];
  /** Ends of keep and repair, ascending. */
  readonly ends: readonly number[];
}

const within = (value: number, { min, max }: Bounds) =>
  value >= (min ?? Number.NEGATIVE_INFINITY) && value <= (max ?? Number.POSITIVE_INFINITY);

/** Share of the scale left free beyond the outermost end or reading. */
const ROOM = 0.12;

/**
 * The bands of a limit, on a scale wide enough for every end and every reading. A limit with a single end and no
 * reading gets room of a fifth of the end's size.
 */
export function bandsOf(row: LimitRow, readings: readonly number[]): Bands {
  const keep = boundsAsSize(row, row.keep);
  const repair = row.repair === null ? null : boundsAsSize(row, row.repair);
  const ends = [...new Set([keep.min, keep.max, repair?.min, repair?.max])]
    .filter((end) => end !== undefined)
    .sort((a, b) => a - b);
  const [low, high] = [Math.min(...ends, ...readings), Math.max(...ends, ...readings)];
  const room = high > low ? (high - low) * ROOM : Math.max(Math.abs(high) / 5, 1);
  const [from, to] = [low - room, high + room];
  const marks = [from, ...ends, to];
  const bands = marks.slice(1).map((end, index): Band => {
    const start = must(marks[index], 'the mark before');
    const middle = (start + end) / 2;
    const inside: Class = within(middle, keep)
      ? 'keep'
      : repair !== null && within(middle, repair)
        ? 'repair'
        : 'scrap';
    return { from: start, to: end, class: inside };
  });
  return { from, to, bands, ends };
}

/** A reading as a dot: its place across in px, and its place in the pile of those beside it, from 0. */
export interface Dot {
  readonly x: number;
  readonly pile: number;
}

/** Piles readings that would lie on each other; `place` gives the px of a value, `size` the px a dot takes. */
export function pileUp(readings: readonly number[], place: (value: number) => number, size: number): Dot[] {
  const piles = new Map<number, number>();
  return [...readings]
    .sort((a, b) => a - b)
    .map((value) => {
      const column = Math.round(place(value) / size);
      const pile = piles.get(column) ?? 0;
      piles.set(column, pile + 1);
      return { x: column * size, pile };
    });
}
