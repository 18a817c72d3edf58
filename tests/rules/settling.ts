import { must } from '../../lib/base/index.ts';
import type { LimitFinding, ReadingEvidence } from '../../lib/rules/index.ts';
import { contextOf, judgeLimits } from '../../lib/rules/limits.ts';
import type { PartFacts } from '../../lib/tolerances/index.ts';
import { normalCdf } from '../../lib/units/index.ts';
import { depthLimit, reading, tableOf } from '../support/evidence.ts';

/** A limit from below without repair, invented. */
export const LIMIT = depthLimit({ keep: { min: 10.5 }, repair: null });
const BASE: PartFacts = {
  componentKind: 'rim base',
  maker: '',
  series: '',
  construction: 'five-piece',
  diameterCode: 25,
};
/** Standard normal quantile of 95 % (standard normal table). */
export const Z95 = 1.6448536269514722;
/** √ of the 95 % quantile of χ² with one degree of freedom: the standard normal quantile of 97.5 %. */
const AGREE = 1.959963984540054;

/** A reading at a clock position by a named instrument. */
export function at(
  clock: number | null,
  valueMm: number,
  uMm: number,
  name = 'old',
  id = `${name} ${clock} ${valueMm}`,
): ReadingEvidence {
  return reading({
    id,
    clock,
    valueMm,
    uMm,
    instrument: { name, calibrationDue: '2030-01-01', expired: false },
  });
}

/** The first finding of these readings under a row. */
export function findingOf(
  readings: readonly ReadingEvidence[],
  row: object = LIMIT,
  over: object = {},
  more: readonly object[] = [],
): LimitFinding {
  const context = contextOf([tableOf([row, ...more], over)], BASE, '2026-11-02');
  return must(judgeLimits(readings, context).findings[0], 'finding');
}

/**
 * One-sided limit L, one reading v ± u, one more by an instrument with uNew, worked by hand: with s = √(u² + uNew²) the
 * mean becomes v + z u²/s and its u becomes (u uNew/s) max(1, |z|) (two groups: χ² = z²). They agree where |z| ≤ 1.96.
 * Settled as keep where they agree, mean − L ≥ 1.645 u' and the new one alone is in keep, for the old one alone is not;
 * as scrap where mean < L, or, where they disagree, where the new reading is below L.
 */
export function closedForm(limit: number, value: number, u: number, uNew: number) {
  const s = Math.hypot(u, uNew);
  const [a, p, gap] = [(u * u) / s, Z95 * ((u * uNew) / s), limit - value];
  let keep = 0;
  const addInterval = (from: number, to: number) => {
    const [low, high] = [Math.max(from, -AGREE, (gap + Z95 * uNew) / s), Math.min(to, AGREE)];
    if (high > low) keep += normalCdf(high) - normalCdf(low);
  };
  addInterval(Math.max(-1, (gap + p) / a), 1);
  if (a > p) addInterval(Math.max(1, gap / (a - p)), Number.POSITIVE_INFINITY);
  else addInterval(1, gap / (a - p));
  addInterval(gap / (a + p), -1);
  const agreed = Math.max(0, normalCdf(gap / a) - normalCdf(-AGREE));
  return { keep, scrap: agreed + normalCdf(Math.min(-AGREE, gap / s)) };
}
