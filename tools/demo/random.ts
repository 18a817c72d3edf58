/** Chance with a seed, so that the demonstration is told alike each time. */
export interface Chance {
  /** A number from 0 up to but not including 1. */
  next(): number;
  /** A nearly normal number: mean 0, standard deviation 1, never beyond 3.5. */
  normal(): number;
  /** A whole number from 0 up to but not including `count`. */
  below(count: number): number;
}

/** The same seed gives the same numbers on every machine (the generator named mulberry32, public domain). */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
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
