import type { Problem, Result } from '../../base/index.ts';
import { showNumber } from '../../units/index.ts';
import type { ReadingPair } from '../pairs.ts';
import { intraclass } from './intraclass.ts';
import { absoluteInterval, oneWayInterval } from './intraclassInterval.ts';
import {
  type Interval,
  type LimitsOfAgreement,
  limitsOfAgreement,
  normalisedError,
  repeatability,
} from './limits.ts';

/** Agreement of reading pairs of one quantity; lengths in mm. Differences are inspector minus second person. */
export interface ReadingAgreement {
  readonly n: number;
  readonly limits: Result<LimitsOfAgreement, Problem>;
  /** Standard deviation of one reading about what both would read on average; null for no pairs. */
  readonly withinMm: number | null;
  /** Null where it is not defined: fewer than three pairs, or readings that are all alike. */
  readonly icc: IntraclassOfPairs | null;
  readonly stated: StatedAgreement;
  readonly notes: readonly string[];
}

/** How much of the scatter of readings comes from the parts. */
export interface IntraclassOfPairs {
  /** `same two`: ICC(2,1), one inspector and one reviewer; `changing`: ICC(1,1). */
  readonly form: 'same two' | 'changing';
  readonly value: number;
  readonly interval: Interval | null;
}

/** Agreement within the stated uncertainties. */
export interface StatedAgreement {
  /** Pairs of which both, or one, state an uncertainty. */
  readonly counted: number;
  /** Of these, pairs whose normalised error is at most 1 in size. */
  readonly within: number;
}

/** From as many pairs on the figures are called usable without a word: own choice. */
const PAIRS_USUAL = 30;

/** Expanded uncertainties take this many standard uncertainties (JCGM 100:2008, 6.3.3: near 95 %). */
const COVERAGE = 2;

/** Normalised error of a pair; null where neither reading states an uncertainty. */
export function errorOfPair({ first, second }: ReadingPair): number | null {
  if (first.uMm === null || second.uMm === null) return null;
  return normalisedError(
    { value: first.valueMm, U: COVERAGE * first.uMm },
    { value: second.valueMm, U: COVERAGE * second.uMm },
  );
}

/** Figures of agreement of pairs of one quantity (see `pairGroups`). Undefined ones are left out, never made up. */
export function readingAgreement(pairs: readonly ReadingPair[]): ReadingAgreement {
  const values = pairs.map(({ first, second }) => ({ first: first.valueMm, second: second.valueMm }));
  const limits = limitsOfAgreement(values);
  const repeated = repeatability(values);
  const errors = pairs.map(errorOfPair).filter((one) => one !== null);
  return {
    n: pairs.length,
    limits,
    withinMm: repeated.ok ? repeated.value.sdOfDifferences / Math.SQRT2 : null,
    icc: limits.ok ? intraclassOf(pairs) : null,
    stated: { counted: errors.length, within: errors.filter((one) => Math.abs(one) <= 1).length },
    notes: notesOn(pairs, limits),
  };
}

function intraclassOf(pairs: readonly ReadingPair[]): IntraclassOfPairs | null {
  const found = intraclass(pairs.map(({ first, second }) => [first.valueMm, second.valueMm]));
  if (!found.ok) return null;
  const sameTwo =
    new Set(pairs.map((one) => one.inspector)).size === 1 &&
    new Set(pairs.map((one) => one.reviewer)).size === 1;
  return sameTwo
    ? { form: 'same two', value: found.value.absolute.single, interval: absoluteInterval(found.value) }
    : { form: 'changing', value: found.value.oneWay.single, interval: oneWayInterval(found.value) };
}

function notesOn(pairs: readonly ReadingPair[], limits: ReadingAgreement['limits']): string[] {
  if (!limits.ok) return [];
  const { n, lowerInterval, limits: band } = limits.value;
  const knownToMm = (lowerInterval[1] - lowerInterval[0]) / 2;
  const half = (band[1] - band[0]) / 2;
  const notes: string[] = [];
  // A limit that may as well lie at the bias says nothing: own choice; the case up to five pairs.
  if (half > 0 && knownToMm > half)
    notes.push(`${n} pairs are too few: each limit is less certain than its own distance from the bias.`);
  else if (n < PAIRS_USUAL)
    notes.push(`${n} pairs give rough figures (own choice: under ${PAIRS_USUAL}); look at the intervals.`);
  if (half === 0) notes.push('All differences are alike, so the limits coincide with the bias.');
  const parts = new Set(pairs.map((one) => `${one.inspection}|${one.component}`)).size;
  if (parts < n)
    notes.push(
      `The ${n} pairs come from ${parts} parts: places on one part resemble each other, so the intervals are narrower than they should be.`,
    );
  const unstated = pairs.filter((one) => errorOfPair(one) === null).length;
  if (unstated > 0)
    notes.push(`${unstated} of ${n} pairs have no stated uncertainty and are not compared with it.`);
  return notes;
}

/** A share of stated agreement in words, or that there is none to state. */
export function statedWords({ counted, within }: StatedAgreement): string {
  return counted === 0
    ? 'none stated'
    : `${within} of ${counted} (${showNumber((100 * within) / counted, 1)} %)`;
}
