import { must } from '../../lib/base/index.ts';
import { type Class, simpleClass } from '../../lib/rules/index.ts';
import { boundsAsSize, type LimitRow } from '../../lib/tolerances/index.ts';

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
    return { from: start, to: end, class: simpleClass(middle, keep, repair) };
  });
  return { from, to, bands, ends };
}

/** Readings piled up: the place of each pile across in px, and its dots. */
export interface Piles {
  /** How many readings one dot stands for, at most. */
  readonly perDot: number;
  readonly piles: readonly { readonly x: number; readonly dots: number }[];
}

/**
 * Piles up readings that would lie on each other; `place` gives the px of a value, `size` the px a dot takes. Where a
 * pile would be higher than `dotsMax`, every dot stands for several readings.
 */
export function pileUp(
  readings: readonly number[],
  place: (value: number) => number,
  size: number,
  dotsMax: number,
): Piles {
  const counts = new Map<number, number>();
  for (const value of readings) {
    const column = Math.round(place(value) / size);
    counts.set(column, (counts.get(column) ?? 0) + 1);
  }
  const perDot = Math.max(1, Math.ceil(Math.max(0, ...counts.values()) / dotsMax));
  return {
    perDot,
    piles: [...counts]
      .sort(([a], [b]) => a - b)
      .map(([column, count]) => ({ x: column * size, dots: Math.ceil(count / perDot) })),
  };
}
