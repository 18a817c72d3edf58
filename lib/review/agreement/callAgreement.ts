import type { Problem, Result } from '../../base/index.ts';
import type { Call } from '../../record/index.ts';
import type { CallPair } from '../pairs.ts';
import { evenly, type Kappa, weightedKappa } from './kappa.ts';

/** Calls from mild to severe: evidence that is not enough weighs more than keep. */
export const CALLS_IN_ORDER: readonly Call[] = ['keep', 'hold', 'repair', 'scrap'];

/** Agreement of two people's calls on the same parts. */
export interface CallAgreement {
  readonly n: number;
  /** Counts, rows the inspector's call and columns the second person's, in `CALLS_IN_ORDER`. */
  readonly table: readonly (readonly number[])[];
  /** Calls that were the same, and those where the second was milder or more severe. */
  readonly same: number;
  readonly milder: number;
  readonly moreSevere: number;
  /** With weights that fall evenly from 1, the same call, to 0, keep against scrap. */
  readonly kappa: Result<Kappa, Problem>;
  readonly notes: readonly string[];
}

/** Calls from which the large-sample interval may be trusted: 2k² for k classes (Cicchetti 1981, from memory). */
const CALLS_USUAL = 2 * CALLS_IN_ORDER.length ** 2;

/** Figures of agreement of call pairs. The interval is left out where all calls agree: it would have no width. */
export function callAgreement(pairs: readonly CallPair[]): CallAgreement {
  const count = (first: Call, second: Call) =>
    pairs.filter((one) => one.first === first && one.second === second).length;
  const table = CALLS_IN_ORDER.map((first) => CALLS_IN_ORDER.map((second) => count(first, second)));
  const step = ({ first, second }: CallPair) =>
    CALLS_IN_ORDER.indexOf(second) - CALLS_IN_ORDER.indexOf(first);
  const same = pairs.filter((one) => step(one) === 0).length;
  const found = weightedKappa(table, evenly);
  const wholly = found.ok && same === pairs.length;
  return {
    n: pairs.length,
    table,
    same,
    milder: pairs.filter((one) => step(one) < 0).length,
    moreSevere: pairs.filter((one) => step(one) > 0).length,
    kappa: wholly ? { ok: true, value: { ...found.value, se: null, interval: null } } : found,
    notes: notesOn(pairs.length, found, wholly),
  };
}

function notesOn(n: number, found: Result<Kappa, Problem>, wholly: boolean): string[] {
  if (!found.ok) return [];
  const notes: string[] = [];
  if (found.value.kappa === null)
    notes.push(
      'Both used one call only, so there is no chance agreement to compare with: kappa is not defined.',
    );
  else if (wholly) notes.push('All calls agree; an interval from so few ways to differ would be a pretence.');
  if (n < CALLS_USUAL)
    notes.push(
      `${n} calls are few: the interval holds for large samples, some ${CALLS_USUAL} calls or more (from memory).`,
    );
  return notes;
}
