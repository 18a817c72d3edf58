import { z } from 'zod';

/** Stages in which air goes into a set that is fit, in their order. */
export const InflationStageId = z.enum([
  'restraint ready',
  'first air',
  'seating looked at',
  'raised in steps',
  'at pressure',
]);
export type InflationStageId = z.infer<typeof InflationStageId>;

export interface InflationStage {
  readonly id: InflationStageId;
  /** What to do, and when it is done. */
  readonly ask: string;
  readonly caution: string;
  /** Whether the gauge is read at its end. */
  readonly pressure: boolean;
  /** A pressure above this at its end is asked about, kPa. */
  readonly askAboveKpa?: number;
  readonly source: string;
}

export const inflationStages: readonly InflationStage[] = [
  {
    id: 'restraint ready',
    ask: 'The wheel is in a restraining device that holds all components, or stand-off equipment is set up; clip-on chuck, gauge and valve in the line, hose long enough to stand clear.',
    caution:
      'Nobody in the trajectory, above, beside or before the rings, from here to the end. Do not lean on the restraint.',
    pressure: false,
    source: '30 CFR 56.14104(b); 29 CFR 1910.177(d)(4), (f)(6), seen in reprint',
  },
  {
    id: 'first air',
    ask: 'Only enough air to seat the beads and seal; then the air is shut off and the gauge read.',
    caution:
      'Outside a restraint a machine maker’s magazine (1982) names 20 kPa (3 psi) at most. A ring has let go at 70 kPa: little pressure is no safety.',
    pressure: true,
    askAboveKpa: 20,
    source: '29 CFR 1910.177(f)(5), seen in reprint; machine maker’s service magazine, 1982-03-29',
  },
  {
    id: 'seating looked at',
    ask: 'From outside the trajectory: lock ring, flanges and band are seated and locked all round, the gap of the ring is even.',
    caution:
      'Not right? Let all the air out with the core removed before anything is touched. Never hammer, strike or force a part with air behind it.',
    pressure: false,
    source: '29 CFR 1910.177(f)(7)–(8), seen in reprint',
  },
  {
    id: 'raised in steps',
    ask: 'Raised in steps with a stop at each; at each stop the rings are looked at again from outside the trajectory, and it stands until nothing moves.',
    caution: 'Stop at any movement, noise or leak, and let the air out.',
    pressure: true,
    source:
      'Stepped inflation: advice of a mines regulator (New South Wales, 2023); steps are common practice, no source',
  },
  {
    id: 'at pressure',
    ask: 'At the pressure recommended for this tyre and load; the rings looked at once more, the gap of the inflated ring measured where a limit asks for it, the core fitted, valve capped.',
    caution: 'Never above the rating of tyre or rim. No welding, heating or striking, now or later.',
    pressure: true,
    source: '29 CFR 1910.177(f)(7), (f)(11), seen in reprint',
  },
];

/** The first stage that is not done yet; null when the set is at pressure. */
export function nextStage(done: ReadonlySet<InflationStageId>): InflationStage | null {
  return inflationStages.find((stage) => !done.has(stage.id)) ?? null;
}
