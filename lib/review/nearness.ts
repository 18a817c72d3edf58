import type { Finding, LimitFinding } from '../rules/index.ts';

/*
 * Own choices, in points; a point weighs as much as a week of waiting. A size gives up to 5 for the probability that it is
 * beyond keep, 5 for beyond repair, and 10 for its margin in standard uncertainties, from 5 of them inside to 5 beyond.
 */
const PROBABILITY_POINTS = 5;
const MARGIN_U_MAX = 5;
/** A defect or an age has no margin: it counts as a size that lies at its limit, or clearly beyond it. */
const WITHOUT_MARGIN_POINTS = { keep: 0, repair: 10, scrap: 15 } as const;

/** How near to or how far beyond a limit something lies. */
export interface Nearness {
  /** 0 to 20, whole. */
  readonly points: number;
  /** What lies there, in words without a class; null when nothing counts. */
  readonly words: string | null;
}

/** The finding that lies nearest to or furthest beyond its limit; 0 points where there is none. */
export function nearestOf(findings: readonly Finding[]): Nearness {
  return findings.reduce<Nearness>(
    (so, finding) => {
      const one = nearnessOf(finding);
      return one.points > so.points ? one : so;
    },
    { points: 0, words: null },
  );
}

function nearnessOf(finding: Finding): Nearness {
  switch (finding.about) {
    case 'limit':
      return sizeNearness(finding);
    case 'defect':
      return {
        points: WITHOUT_MARGIN_POINTS[finding.class],
        words: `${finding.defect} in the ${finding.zone}`,
      };
    case 'age':
      return { points: WITHOUT_MARGIN_POINTS[finding.class], words: 'its age' };
  }
}

function sizeNearness(finding: LimitFinding): Nearness {
  const { beyondKeep, beyondRepair, characteristic, margin } = finding;
  const beyond = beyondInU(finding);
  const marginPoints = beyond + MARGIN_U_MAX;
  const times = Math.abs(beyond) >= MARGIN_U_MAX ? `${MARGIN_U_MAX} or more` : Math.abs(beyond).toFixed(1);
  return {
    points: Math.round(PROBABILITY_POINTS * (beyondKeep + beyondRepair) + marginPoints),
    words: `${characteristic} ${times} standard uncertainties ${margin < 0 ? 'beyond' : 'inside'} its limit`,
  };
}

/** How many standard uncertainties a size lies beyond its keep bound, −5 to 5; negative inside. A size exactly at it: 0. */
function beyondInU({ margin, governing }: LimitFinding): number {
  if (margin === 0) return 0;
  const beyond = governing.u > 0 ? -margin / governing.u : -Math.sign(margin) * MARGIN_U_MAX;
  return Math.max(-MARGIN_U_MAX, Math.min(MARGIN_U_MAX, beyond));
}
