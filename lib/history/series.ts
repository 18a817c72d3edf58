import { characteristicOf } from '../readings/index.ts';
import { type ComponentState, componentBehind } from '../record/index.ts';
import { dayOf } from '../rules/index.ts';
import { hoursOn } from './clock.ts';
import type { InspectionMeasured, WearMeasured } from './measured.ts';

/** A measurement of a series at its time. */
export interface WearPoint extends Omit<WearMeasured, 'component' | 'characteristic' | 'zone' | 'state'> {
  readonly inspection: string;
  readonly wheel: string;
  /** Day of submission, ISO date. */
  readonly on: string;
  readonly settled: boolean;
  /** Hours on duty, or days since 1970-01-01: see `clock` of the series; with its standard uncertainty. */
  readonly x: number;
  readonly xU: number;
  /** It is better than an earlier one beyond what both may be off: wear does not heal. */
  readonly healed: boolean;
}

/** One quantity of one component through time. */
export interface WearSeries {
  readonly key: string;
  readonly component: string;
  readonly characteristic: WearMeasured['characteristic'];
  readonly zone: WearMeasured['zone'];
  readonly state: WearMeasured['state'];
  /** `days`: the hours on duty of some inspection are not known, so that wear is held against dates. */
  readonly clock: 'hours' | 'days';
  /** Day of the newest repair of the zone, ISO date; null: none. Points are those since then, where there are any. */
  readonly repaired: string | null;
  /** In the order of time. */
  readonly points: readonly WearPoint[];
}

type Undated = Omit<WearPoint, 'x' | 'xU' | 'healed'>;

/** How many standard uncertainties of the difference a reading may be better than an earlier one (k = 2). */
const HEALED_BEYOND = 2;

/** Which way a worse part moves the number; null where both ways are worse. */
export function worseWay({ characteristic }: Pick<WearSeries, 'characteristic'>): 1 | -1 | null {
  const { worse } = characteristicOf(characteristic);
  return worse === 'either' ? null : worse === 'higher' ? 1 : -1;
}

/**
 * Measurements of inspections as one series for each quantity of each component, wherever it was fitted and by
 * whichever of its records it was read, in the order of time. The order in which they are given does not matter, and an inspection given twice counts once.
 */
export function seriesOf(
  inspections: readonly InspectionMeasured[],
  components: ReadonlyMap<string, Pick<ComponentState, 'hoursNoted' | 'mergedInto' | 'repairs'>>,
): WearSeries[] {
  const groups = new Map<string, { first: WearMeasured; points: Undated[] }>();
  for (const { measured, inspection, wheel, at, settled } of onceEach(inspections)) {
    for (const one of measured) {
      const { component: recorded, characteristic, zone, state, ...rest } = one;
      const component = componentBehind({ components }, recorded);
      const key = [component, characteristic, zone, state ?? ''].join('|');
      const point = { ...rest, inspection, wheel, on: at.slice(0, 10), settled };
      const known = groups.get(key);
      if (known === undefined) groups.set(key, { first: { ...one, component }, points: [point] });
      else known.points.push(point);
    }
  }
  return [...groups]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, { first, points }]) => {
      const { component, characteristic, zone, state } = first;
      const part = components.get(component);
      const repaired = part?.repairs.findLast(({ zones }) => zones.includes(zone))?.on ?? null;
      const timed = onClock(sinceRepair(points, repaired), part?.hoursNoted ?? []);
      return {
        key,
        component,
        characteristic,
        zone,
        state,
        clock: timed.clock,
        repaired,
        points: withHealed(timed.points, worseWay(first)),
      };
    });
}

/** A repaired zone wears anew: what was read before says nothing of what is there now. Where nothing was read since, all of it. */
function sinceRepair(points: readonly Undated[], repaired: string | null): readonly Undated[] {
  const since = points.filter(({ on }) => repaired === null || on >= repaired);
  return since.length === 0 ? points : since;
}

function onceEach(inspections: readonly InspectionMeasured[]): InspectionMeasured[] {
  const byId = new Map(inspections.map((one) => [one.inspection, one]));
  return [...byId.values()].sort((a, b) =>
    a.at === b.at ? (a.inspection < b.inspection ? -1 : 1) : a.at < b.at ? -1 : 1,
  );
}

function onClock(
  points: readonly Undated[],
  notes: ComponentState['hoursNoted'],
): { clock: WearSeries['clock']; points: Omit<WearPoint, 'healed'>[] } {
  const hours = points.map(({ on }) => hoursOn(notes, on));
  if (hours.every((one) => one !== null)) {
    return {
      clock: 'hours',
      points: points.map((point, i) => ({ ...point, x: hours[i]?.hours ?? 0, xU: hours[i]?.u ?? 0 })),
    };
  }
  return { clock: 'days', points: points.map((point) => ({ ...point, x: dayOf(point.on), xU: 0 })) };
}

type Read = Pick<WearPoint, 'valueMm' | 'uMm'>;

/** Whether a reading is better than an earlier one by more than both may be off (k = 2). */
export function isBetterBeyondDoubt(later: Read, earlier: Read, worse: 1 | -1): boolean {
  return worse * (earlier.valueMm - later.valueMm) > HEALED_BEYOND * Math.hypot(earlier.uMm, later.uMm);
}

/** Where both ways are worse no change is a healing. */
function withHealed(points: readonly Omit<WearPoint, 'healed'>[], worse: 1 | -1 | null): WearPoint[] {
  return points.map((point, i) => ({
    ...point,
    healed: worse !== null && points.slice(0, i).some((before) => isBetterBeyondDoubt(point, before, worse)),
  }));
}
