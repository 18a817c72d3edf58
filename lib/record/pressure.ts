/** What the pressure found on the machine asks for. */
export interface PressureRule {
  /** Share of the recommended pressure, 0 and up. */
  readonly share: number;
  readonly asks: 'deflate and take the core out' | 'may be topped up';
  readonly sentence: string;
  readonly source: string;
}

/**
 * 29 CFR 1910.177(f)(2)(i) and (f)(4): a tyre run at 80 % or less of its recommended pressure is deflated by taking the
 * core out before the wheel leaves the axle; above 80 % it may be inflated on the machine with remote equipment and
 * nobody in the trajectory. Exactly 80 % belongs to the first group. Pressures in one unit; `recommended` above zero.
 */
export function pressureRule(found: number, recommended: number): PressureRule {
  if (!(recommended > 0) || !(found >= 0)) throw new Error('Broken invariant: pressures were not checked');
  const share = found / recommended;
  // A billionth of slack, so that exactly 80 % is never missed by a rounding of the typed numbers.
  return share <= 0.8 + 1e-9
    ? {
        share,
        asks: 'deflate and take the core out',
        sentence:
          'Run at 80 % or less of its pressure: let all air out by taking the core out before the wheel leaves the axle, and dismantle. Do not top it up.',
        source: '29 CFR 1910.177(f)(2)(i), seen in summary',
      }
    : {
        share,
        asks: 'may be topped up',
        sentence:
          'Above 80 % of its pressure: it may be topped up on the machine with remote equipment and nobody in the trajectory.',
        source: '29 CFR 1910.177(f)(4), seen in reprint',
      };
}
