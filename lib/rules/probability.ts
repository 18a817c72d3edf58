import type { Bounds } from '../tolerances/index.ts';
import { erfc, normalCdf } from '../units/index.ts';
import type { Class } from './finding.ts';

/**
 * Probability that the true value lies outside `bounds` when it is normal about `value` with standard uncertainty
 * `u` (JCGM 106:2012, 7.2–7.4). With u = 0 it is 0 inside (ends included) and 1 outside. Same unit throughout.
 */
export function probabilityOutside(value: number, u: number, bounds: Bounds): number {
  const min = bounds.min ?? Number.NEGATIVE_INFINITY;
  const max = bounds.max ?? Number.POSITIVE_INFINITY;
  if (u === 0) return value >= min && value <= max ? 0 : 1;
  return Math.min(1, normalCdf((min - value) / u) + normalCdf((value - max) / u));
}

/**
 * Probability that χ² with `freedom` degrees of freedom (a whole number from 1) is above `chiSquared`: erfc(√(χ²/2)) or
 * exp(−χ²/2), and for each two degrees more the term (χ²/2)^(k/2) exp(−χ²/2) / Γ(k/2 + 1) (Abramowitz and Stegun
 * 26.4.4 and 26.4.5, from memory).
 */
export function probabilityOfChiSquared(chiSquared: number, freedom: number): number {
  if (chiSquared === Number.POSITIVE_INFINITY) return 0;
  const half = chiSquared / 2;
  const odd = freedom % 2 === 1;
  let above = odd ? erfc(Math.sqrt(half)) : Math.exp(-half);
  let term = odd ? (2 * Math.sqrt(half) * Math.exp(-half)) / Math.sqrt(Math.PI) : half * Math.exp(-half);
  for (let k = odd ? 1 : 2; k < freedom; k += 2) {
    above += term;
    term *= half / (k / 2 + 1);
  }
  return above;
}

/** Whether a value lies in the bounds, ends included. */
function inside(value: number, bounds: Bounds): boolean {
  return (
    value >= (bounds.min ?? Number.NEGATIVE_INFINITY) && value <= (bounds.max ?? Number.POSITIVE_INFINITY)
  );
}

/** The value between `inside`, where `holds` is true, and `outside`, where it is not, up to which it holds; to the last bit. */
function lastThatHolds(inside: number, outside: number, holds: (value: number) => boolean): number {
  let [good, bad] = [inside, outside];
  for (;;) {
    const middle = (good + bad) / 2;
    if (middle === good || middle === bad) return good;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
}

/**
 * The acceptance interval with its guard bands (JCGM 106:2012 8.3.2): the values at which the probability that the truth
 * lies outside `bounds` does not exceed `risk` (0 < risk < 0.5). For one-sided bounds the bound moved inwards by
 * Φ⁻¹(1 − risk) × u, 1.645 u for 5 % (ISO 14253-1, ILAC-G8); for two-sided ones both tails are counted. Null when it is
 * empty. Same unit throughout.
 */
export function acceptanceInterval(bounds: Bounds, u: number, risk: number): Bounds | null {
  if (u === 0) return bounds;
  const { min, max } = bounds;
  const accepted = (value: number) => probabilityOutside(value, u, bounds) <= risk;
  // 40 u inside a lone bound the probability is 0 in binary numbers; a u below their resolution needs a step of theirs.
  const inwards = (bound: number) => Math.max(40 * u, Math.abs(bound) * 1e-12);
  const best =
    min === undefined
      ? (max ?? 0) - inwards(max ?? 0)
      : max === undefined
        ? min + inwards(min)
        : (min + max) / 2;
  if (!accepted(best)) return null;
  return {
    ...(min === undefined ? {} : { min: lastThatHolds(best, min, accepted) }),
    ...(max === undefined ? {} : { max: lastThatHolds(best, max, accepted) }),
  };
}

/** Distance to the nearest end of the bounds, negative outside. */
export function marginTo(value: number, bounds: Bounds): number {
  const low = bounds.min === undefined ? Number.POSITIVE_INFINITY : value - bounds.min;
  const high = bounds.max === undefined ? Number.POSITIVE_INFINITY : bounds.max - value;
  return Math.min(low, high);
}

/** The mildest class for which the probability that the truth is worse does not exceed `risk`. */
export function guardedClass(beyondKeep: number, beyondRepair: number, risk: number): Class {
  if (beyondKeep <= risk) return 'keep';
  return beyondRepair <= risk ? 'repair' : 'scrap';
}

/** The value itself against the bounds (simple acceptance, ILAC-G8:09/2019, 4.2.1); a value on a bound is inside. */
export function simpleClass(value: number, keep: Bounds, repair: Bounds | null): Class {
  if (inside(value, keep)) return 'keep';
  return repair !== null && inside(value, repair) ? 'repair' : 'scrap';
}
