import { type Band, edgeAt, whereBandReaches } from './crossing.ts';
import type { LimitEnd } from './limitEnds.ts';
import { type Line, Z_ONE_SIDED_95 } from './line.ts';

/** A line as a trend has it. */
export type TrendLine = Pick<Line, 'centre' | 'level' | 'levelVariance' | 'slope' | 'slopeVariance'>;

/** Why nothing can be said of when a limit is reached. */
export type Silence =
  | 'no limit'
  | 'one reading and no fleet'
  | 'no wear to be told'
  | 'getting better'
  | 'out of reach';

/** When the worse edge of the band reaches the keep limit. `x` in hours on duty or days since 1970-01-01. */
export type Reach =
  | {
      readonly state: 'reaches';
      readonly end: LimitEnd;
      readonly x: number;
      /** Where the line itself does; later, or never within the horizon: null. */
      readonly lineX: number | null;
    }
  | {
      readonly state: 'reached';
      readonly end: LimitEnd;
      /** `value`: the last reading is beyond the limit; `band`: it may be, by more than the risk of 5 %. */
      readonly by: 'value' | 'band';
      readonly x: number;
    }
  | {
      readonly state: 'cannot say';
      readonly why: Silence;
      /** Where the band reaches the limit all the same, for what is not known; null: nowhere. */
      readonly bandX: number | null;
    };

/** The last thing that was read. */
export interface LastRead {
  readonly x: number;
  readonly valueMm: number;
}

/** Beyond this from the last reading no time is told: about thirty years of work, or fifty years. Own choice. */
const HORIZON = { hours: 200_000, days: 18_262 } as const;

/** The band toward one end of the limits: line, one reading to come, and what the limit itself is uncertain by. */
export function bandToward(
  { worse, u }: Pick<LimitEnd, 'worse' | 'u'>,
  line: TrendLine,
  readingU: number,
): Band {
  return { line, constantVariance: readingU ** 2 + u ** 2, worse, z: Z_ONE_SIDED_95 };
}

function lineReaches(
  line: TrendLine,
  { worse, value }: LimitEnd,
  from: number,
  until: number,
): number | null {
  if (worse * line.slope <= 0) return null;
  const x = line.centre + (value - line.level) / line.slope;
  return x > until ? null : Math.max(from, x);
}

function reachOf(
  line: TrendLine,
  readingU: number,
  end: LimitEnd,
  last: LastRead,
  clock: 'hours' | 'days',
): Reach {
  const band = bandToward(end, line, readingU);
  const until = last.x + HORIZON[clock];
  if (end.worse * (last.valueMm - end.value) > 0) return { state: 'reached', end, by: 'value', x: last.x };
  if (end.worse * (edgeAt(band, last.x) - end.value) >= 0)
    return { state: 'reached', end, by: 'band', x: last.x };
  const bandX = whereBandReaches(band, end.value, last.x, until);
  const toward = end.worse * line.slope;
  const margin = Z_ONE_SIDED_95 * Math.sqrt(line.slopeVariance);
  if (toward < -margin) return { state: 'cannot say', why: 'getting better', bandX: null };
  if (toward <= margin) return { state: 'cannot say', why: 'no wear to be told', bandX };
  if (bandX === null) return { state: 'cannot say', why: 'out of reach', bandX };
  return { state: 'reaches', end, x: bandX, lineX: lineReaches(line, end, last.x, until) };
}

/** How soon a limit calls for somebody to look: less is sooner, infinite where nothing is known. */
export function soonest(reach: Reach): number {
  if (reach.state === 'reached') return Number.NEGATIVE_INFINITY;
  return (reach.state === 'reaches' ? reach.x : reach.bandX) ?? Number.POSITIVE_INFINITY;
}

const BY_STATE: readonly Reach['state'][] = ['reached', 'reaches', 'cannot say'];

/** Negative when the first worries more: reached before reaching, reaching before what cannot be said, sooner before later. */
export function byWorry(a: Reach, b: Reach): number {
  return BY_STATE.indexOf(a.state) - BY_STATE.indexOf(b.state) || compare(soonest(a), soonest(b));
}

function compare(a: number, b: number): number {
  return a === b ? 0 : a < b ? -1 : 1;
}

/** The first of the ends that the worse edge of the band reaches after the last reading; `line` null: there is none. */
export function reachFirst(
  line: TrendLine | null,
  readingU: number,
  ends: readonly LimitEnd[],
  last: LastRead,
  clock: 'hours' | 'days',
): Reach {
  if (ends.length === 0) return { state: 'cannot say', why: 'no limit', bandX: null };
  const crossed = ends.find(({ worse, value }) => worse * (last.valueMm - value) > 0);
  if (crossed !== undefined) return { state: 'reached', end: crossed, by: 'value', x: last.x };
  if (line === null) return { state: 'cannot say', why: 'one reading and no fleet', bandX: null };
  const [first] = ends.map((end) => reachOf(line, readingU, end, last, clock)).sort(byWorry);
  return first ?? { state: 'cannot say', why: 'no limit', bandX: null };
}
