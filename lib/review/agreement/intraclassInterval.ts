import fCdf from '@stdlib/stats-base-dists-f-cdf';
import type { Intraclass } from './intraclass.ts';
import type { Interval } from './limits.ts';

const STEPS = 200;

/**
 * Quantile of the F distribution: the value that is exceeded with probability 1 − p, found by halving. Degrees of freedom
 * need not be whole.
 */
function fQuantile(p: number, above: number, below: number): number {
  let [low, high] = [0, 1];
  while (fCdf(high, above, below) < p && high < 1e12) high *= 2;
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (low + high) / 2;
    if (fCdf(middle, above, below) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function kept([low, high]: Interval): Interval {
  return [Math.max(-1, low), Math.min(1, high)];
}

/**
 * Confidence interval of ICC(1,1), every thing read by other readers (Shrout & Fleiss, Psychological Bulletin 86, 1979).
 * Null where things were each read alike, which leaves nothing to compare with.
 */
export function oneWayInterval(
  { things: n, readers: k, meanSquares }: Intraclass,
  confidence = 0.95,
): Interval | null {
  const { things: BMS, within: WMS } = meanSquares;
  if (!(WMS > 0)) return null;
  const p = (1 + confidence) / 2;
  const F = BMS / WMS;
  const low = F / fQuantile(p, n - 1, n * (k - 1));
  const high = F * fQuantile(p, n * (k - 1), n - 1);
  return kept([(low - 1) / (low + k - 1), (high - 1) / (high + k - 1)]);
}

/**
 * Confidence interval of ICC(2,1), the same readers and their offsets counted (Shrout & Fleiss 1979, with Satterthwaite’s
 * degrees of freedom; McGraw & Wong, Psychological Methods 1, 1996). Null where nothing is left to compare with.
 */
export function absoluteInterval(icc: Intraclass, confidence = 0.95): Interval | null {
  const { things: n, readers: k, meanSquares, absolute } = icc;
  const { things: BMS, readers: JMS, rest: EMS } = meanSquares;
  const r = absolute.single;
  if (!(EMS > 0) || r >= 1) return null;
  const a = (k * r) / (n * (1 - r));
  const b = 1 + (k * r * (n - 1)) / (n * (1 - r));
  const degrees =
    (a * JMS + b * EMS) ** 2 / ((a * JMS) ** 2 / (k - 1) + (b * EMS) ** 2 / ((n - 1) * (k - 1)));
  const p = (1 + confidence) / 2;
  const FL = fQuantile(p, n - 1, degrees);
  const FU = fQuantile(p, degrees, n - 1);
  const others = k * JMS + (k * n - k - n) * EMS;
  return kept([
    (n * (BMS - FL * EMS)) / (FL * others + n * BMS),
    (n * (FU * BMS - EMS)) / (others + n * FU * BMS),
  ]);
}
