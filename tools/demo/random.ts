import { uniformFrom } from '../../lib/base/index.ts';

/** Chance with a seed, so that the demonstration is told alike each time. */
export interface Chance {
  /** A number from 0 up to but not including 1. */
  next(): number;
  /** A nearly normal number: mean 0, standard deviation 1, never beyond 3.5. */
  normal(): number;
  /** A whole number from 0 up to but not including `count`. */
  below(count: number): number;
}

/** The same seed gives the same numbers on every machine. */
export function chanceFrom(seed: number): Chance {
  const next = uniformFrom(seed);
  return {
    next,
    normal: () => (next() + next() + next() + next() - 2) * Math.sqrt(3),
    below: (count) => Math.floor(next() * count),
  };
}

/** A seed from words, so that each thing has chances of its own, whatever else is told before it. */
export function seedOf(words: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < words.length; i += 1) hash = Math.imul(hash ^ words.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}
