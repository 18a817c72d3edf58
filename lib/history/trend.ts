import { FLEET_MIN, fleetSlopes, type Prior, priorOf, type SlopeOf, shrunk } from './fleet.ts';
import type { LimitEnd } from './limitEnds.ts';
import { linePoints, ownLine } from './ownLine.ts';
import { byWorry, type Reach, reachFirst, type TrendLine } from './reach.ts';
import { isBetterBeyondDoubt, type WearPoint, type WearSeries, worseWay } from './series.ts';

/** How a series with a reading that went back was read: the way by which its limit comes sooner. */
export type Doubt = 'without what went back' | 'only since it went back';

/** Where wear is heading. Slopes in mm per hour or per day, as the clock of the series. */
export interface Trend {
  /** What the slope rests on. */
  readonly basis: 'own and fleet' | 'own' | 'fleet' | 'none';
  readonly line: TrendLine | null;
  /** The slope by the component's own readings alone. */
  readonly own: SlopeOf | null;
  /** What the other components lead one to expect; null where there are too few. */
  readonly fleet: Prior | null;
  /** How much of the slope is the component's own, from 0 to 1. */
  readonly share: number;
  /** Standard uncertainty of a reading to come, mm: the root mean square of those that were taken. */
  readonly readingU: number;
  /** Inspections whose points the line rests on. */
  readonly counted: readonly string[];
  readonly doubt: Doubt | null;
  readonly reach: Reach;
}

type Line = Pick<Trend, 'basis' | 'line' | 'own' | 'share' | 'readingU' | 'counted'>;

function levelOf(
  points: readonly WearPoint[],
  slope: number,
): Pick<TrendLine, 'centre' | 'level' | 'levelVariance'> {
  const weighted = linePoints(points, slope).map((one) => ({ ...one, weight: 1 / one.u ** 2 }));
  const total = weighted.reduce((sum, { weight }) => sum + weight, 0);
  const centred = (of: (one: { x: number; y: number }) => number) =>
    weighted.reduce((sum, one) => sum + one.weight * of(one), 0) / total;
  return { centre: centred(({ x }) => x), level: centred(({ y }) => y), levelVariance: 1 / total };
}

function lineThrough(points: readonly WearPoint[], fleet: Prior | null): Line {
  const line = ownLine(points);
  const own = line === null ? null : { slope: line.slope, variance: line.slopeVariance };
  const common = {
    own,
    readingU: Math.sqrt(points.reduce((sum, { uMm }) => sum + uMm ** 2, 0) / points.length),
    counted: points.map(({ inspection }) => inspection),
  };
  if (line !== null && own !== null) {
    const both = fleet === null ? { ...own, share: 1 } : shrunk(own, fleet);
    const { centre, level, levelVariance } = line;
    return {
      ...common,
      basis: fleet === null ? 'own' : 'own and fleet',
      share: both.share,
      line: { centre, level, levelVariance, slope: both.slope, slopeVariance: both.variance },
    };
  }
  if (fleet === null) return { ...common, basis: 'none', share: 0, line: null };
  return {
    ...common,
    basis: 'fleet',
    share: 0,
    line: { ...levelOf(points, fleet.slope), slope: fleet.slope, slopeVariance: fleet.variance },
  };
}

/** Where readings last went back, against those since the time before; null: nowhere. */
function lastWayBack(points: readonly WearPoint[], worse: 1 | -1 | null): number | null {
  if (worse === null) return null;
  let since = 0;
  for (const [i, point] of points.entries()) {
    if (points.slice(since, i).some((before) => isBetterBeyondDoubt(point, before, worse))) since = i;
  }
  return since === 0 ? null : since;
}

/** Readings as they can be taken when one went back: each way leaves out what it does not believe. */
function waysToRead(
  points: readonly WearPoint[],
  worse: 1 | -1 | null,
): { doubt: Doubt | null; points: readonly WearPoint[] }[] {
  const since = lastWayBack(points, worse);
  if (since === null) return [{ doubt: null, points }];
  return [
    { doubt: 'without what went back', points: points.filter(({ healed }) => !healed) },
    { doubt: 'only since it went back', points: points.slice(since) },
  ];
}

/**
 * The trend of a series: the component's own slope by weighted least squares put together with what the fleet leads one
 * to expect (`fleet`), the line through the weighted centre of its readings, and when the worse edge of its 95 % band
 * (slope, level, and one reading to come) reaches the first of the keep limits. Readings that went back are never averaged
 * with the others: the series is read without them, and with them alone and what came after, and the sooner limit
 * counts. The order of the points does not matter. Throws for a series without points.
 */
export function trendOf(series: WearSeries, ends: readonly LimitEnd[], fleet: Prior | null): Trend {
  const points = [...series.points].sort((a, b) => a.x - b.x);
  if (points.length === 0) throw new Error('Broken invariant: a series has no points');
  const [worst] = waysToRead(points, worseWay(series))
    .map(({ doubt, points: counted }) => {
      const through = lineThrough(counted, fleet);
      const last = counted.at(-1) as WearPoint;
      const reach = reachFirst(through.line, through.readingU, ends, last, series.clock);
      return { ...through, doubt, reach, fleet };
    })
    .sort((a, b) => byWorry(a.reach, b.reach));
  if (worst === undefined) throw new Error('Broken invariant: no way to read a series');
  return worst;
}

/** Own slopes of the components of a fleet, by kind of part and quantity. */
export type Fleet = ReadonlyMap<string, readonly (SlopeOf & { readonly component: string })[]>;

/** What components are compared by: their kind, what is measured where and how, and the clock it is held against. */
export function fleetKey(series: Omit<WearSeries, 'points' | 'key'>, componentKind: string): string {
  return [componentKind, series.characteristic, series.zone, series.state ?? '', series.clock].join('|');
}

/** Own slopes of all series that have one and are not in doubt; `kindOf` names the kind of a component. */
export function fleetOf(all: readonly WearSeries[], kindOf: (component: string) => string): Fleet {
  const fleet = new Map<string, (SlopeOf & { component: string })[]>();
  for (const series of all) {
    if (series.points.some(({ healed }) => healed)) continue;
    const line = ownLine(series.points);
    if (line === null) continue;
    const key = fleetKey(series, kindOf(series.component));
    const own = { component: series.component, slope: line.slope, variance: line.slopeVariance };
    fleet.set(key, [...(fleet.get(key) ?? []), own]);
  }
  return fleet;
}

/** What the other components of a fleet lead one to expect of this one; null for fewer than `FLEET_MIN` of them. */
export function expectedOf(series: WearSeries, componentKind: string, fleet: Fleet): Prior | null {
  const others = (fleet.get(fleetKey(series, componentKind)) ?? []).filter(
    ({ component }) => component !== series.component,
  );
  return others.length < FLEET_MIN ? null : priorOf(fleetSlopes(others));
}
