import type { PartVerdict, Result, Verdict } from '../rules/index.ts';
import { type EnergyClass, type WheelEnergy, wheelEnergy } from '../wheel/index.ts';
import { isMilder } from './conclude.ts';
import { nearestOf } from './nearness.ts';

/*
 * The order of the queue, our own choice: the worst class first, strictly. A held part in which something worse was found
 * already stands just below that class. Within a class points count; a point is worth a week of waiting.
 */
const LADDER = ['keep', 'hold', 'hold, repair so far', 'repair', 'hold, scrap so far', 'scrap'] as const;
type Rung = (typeof LADDER)[number];

/** Points of the energy in the air by its class. */
const ENERGY_POINTS: Readonly<Record<EnergyClass, number>> = { 1: 0, 2: 2, 3: 4, 4: 8 };
/** Points of every further part that is as bad as the worst, and how many of them count. */
const FURTHER_PART_POINTS = 2;
const FURTHER_PARTS_MAX = 5;
/** Points where the inspector called something milder than the verdict: the hand may already be on the valve. */
const MILDER_POINTS = 12;

/** Parts of a rank: a class outweighs all points and 109 years of waiting. */
const RANK_PER_RUNG = 100_000;
const DAYS_PER_POINT = 7;
const DAYS_COUNTED = 40_000;
const DAY_MS = 86_400_000;

/** What an inspection's place in the queue rests on. */
export interface Danger {
  /** Whole number, larger is looked at earlier; the same for good, so that an index can keep the order. */
  readonly rank: number;
  /** The worst result of its parts. */
  readonly cls: Result;
  /** 0 to 20, from the size nearest to or furthest beyond its limit. */
  readonly marginPoints: number;
  readonly energy: WheelEnergy;
  /** The reasons but for the energy, which has its own sentence, and the waiting, which goes on; it names the class. */
  readonly why: string;
}

export interface DangerInputs {
  readonly verdict: Verdict;
  /** The inspector's own calls by component. */
  readonly calls: ReadonlyMap<string, string>;
  /** Gauge pressure that the record recommends, kPa; null where none was written down. */
  readonly recommendedKpa: number | null;
  /** When it was submitted, ISO 8601 in UTC. */
  readonly submittedAt: string;
}

/** Place of a submitted inspection in the queue, from its verdict, the energy behind its rim and how long it has waited. */
export function dangerOf({ verdict, calls, recommendedKpa, submittedAt }: DangerInputs): Danger {
  const rung = Math.max(0, ...verdict.parts.map(rungOf));
  const energy = wheelEnergy(verdict.inputs.wheel.designation, recommendedKpa);
  const nearest = nearestOf(verdict.parts.flatMap((part) => part.findings));
  const milder = verdict.parts.filter((part) => isCalledMilder(part, calls));
  const worst = verdict.parts.filter((part) => rungOf(part) === rung);
  const points =
    nearest.points +
    ENERGY_POINTS[energy.energyClass] +
    FURTHER_PART_POINTS * Math.max(0, Math.min(FURTHER_PARTS_MAX, worst.length - 1)) +
    (milder.length > 0 ? MILDER_POINTS : 0);
  return {
    rank: rankOf(rung, points, submittedAt),
    cls: worstResult(verdict.parts),
    marginPoints: nearest.points,
    energy,
    why: whyOf(LADDER[rung] ?? '', worst, nearest.words, milder),
  };
}

/** Rung of the ladder, points and the day of submission as one number. A moment that cannot be read counts as waiting longest. */
export function rankOf(rung: number, points: number, submittedAt: string): number {
  const day = Math.floor(Date.parse(submittedAt) / DAY_MS);
  const since = Number.isNaN(day) ? 0 : Math.max(0, Math.min(DAYS_COUNTED, day));
  return rung * RANK_PER_RUNG + points * DAYS_PER_POINT + DAYS_COUNTED - since;
}

function rungOf({ result, worst }: PartVerdict): number {
  const soFar: Rung = worst === null || worst === 'keep' ? 'keep' : `hold, ${worst} so far`;
  return Math.max(LADDER.indexOf(result), LADDER.indexOf(soFar));
}

const MILD_TO_SEVERE: readonly Result[] = ['keep', 'hold', 'repair', 'scrap'];

function worstResult(parts: readonly PartVerdict[]): Result {
  return MILD_TO_SEVERE.findLast((result) => parts.some((part) => part.result === result)) ?? 'hold';
}

function isCalledMilder(part: PartVerdict, calls: ReadonlyMap<string, string>): boolean {
  const call = part.component === null ? undefined : calls.get(part.component);
  const known = MILD_TO_SEVERE.find((one) => one === call);
  return known !== undefined && isMilder(known, part.result);
}

function whyOf(
  rung: string,
  worst: readonly PartVerdict[],
  nearest: string | null,
  milder: readonly PartVerdict[],
): string {
  const slots = (parts: readonly PartVerdict[]) => parts.map((part) => part.slot).join(', ');
  return [
    worst.length === 0 ? rung : `${rung}: ${slots(worst)}`,
    ...(nearest === null ? [] : [nearest]),
    ...(milder.length === 0 ? [] : [`the inspector called milder: ${slots(milder)}`]),
  ].join('; ');
}
