import { type ComponentState, componentsIn, type RegisterState } from '../record/index.ts';
import { diameterCodeOf } from '../rules/index.ts';
import type { PartFacts, Table } from '../tolerances/index.ts';
import { dayAtHours, hoursPerDay, isoDay } from './clock.ts';
import { type LimitEnd, limitEnds } from './limitEnds.ts';
import type { InspectionMeasured } from './measured.ts';
import { type LookAgain, nextLooks } from './nextLook.ts';
import { byWorry, soonest } from './reach.ts';
import { seriesOf, type WearSeries } from './series.ts';
import { expectedOf, type Fleet, fleetOf, type Trend, trendOf } from './trend.ts';

/** What trends are drawn from: the register and the tables in force of a site, its fleet, and today (ISO date). */
export interface WearContext {
  readonly register: RegisterState;
  readonly tables: readonly Table[];
  readonly fleet: Fleet;
  readonly on: string;
}

/** Where a part is, or was last. */
export interface PartPlace {
  readonly wheel: string;
  readonly slot: string;
  /** False: it is in no wheel now. */
  readonly fitted: boolean;
}

/** The trend of one quantity of a component with what it is held against. */
export interface Wear {
  readonly series: WearSeries;
  readonly component: ComponentState | null;
  readonly place: PartPlace | null;
  readonly ends: readonly LimitEnd[];
  readonly trend: Trend;
  /** Hours a day it has worked lately, or, where that is not known, the other parts of its wheel; null: not known. */
  readonly perDay: number | null;
  /** The day (ISO date) by which the band is at its limit, or may be; null: nothing says. */
  readonly by: string | null;
}

function placeOf(component: ComponentState | null): PartPlace | null {
  const stay = component?.fitments.at(-1);
  return stay === undefined ? null : { wheel: stay.wheel, slot: stay.slot, fitted: stay.until === null };
}

/** What limits are chosen by: the part, and the wheel it is in or was in last; null where either is not known. */
function factsOf(
  component: ComponentState | null,
  { register }: Pick<WearContext, 'register'>,
): PartFacts | null {
  const place = placeOf(component);
  const wheel = place === null ? undefined : register.wheels.get(place.wheel);
  if (component === null || wheel === undefined) return null;
  const { componentKind, maker, series } = component;
  return {
    componentKind,
    maker,
    series,
    construction: wheel.construction,
    diameterCode: diameterCodeOf(wheel.designation),
  };
}

/** Hours a day of a part: its own, or of those fitted to the same wheel the middle one. */
function rateOf(component: ComponentState, register: RegisterState): number | null {
  const own = hoursPerDay(component.hoursNoted);
  const place = placeOf(component);
  if (own !== null || place?.fitted !== true) return own;
  const others = [...componentsIn(place.wheel, register).values()]
    .map(({ hoursNoted }) => hoursPerDay(hoursNoted))
    .filter((rate) => rate !== null)
    .sort((a, b) => a - b);
  return others[Math.floor(others.length / 2)] ?? null;
}

/** The trend of a series under the tables in force. */
export function wearOf(series: WearSeries, context: WearContext): Wear {
  const component = context.register.components.get(series.component) ?? null;
  const facts = factsOf(component, context);
  const ends = facts === null ? [] : limitEnds(series, facts, context.tables, context.on);
  const prior = component === null ? null : expectedOf(series, component.componentKind, context.fleet);
  const trend = trendOf(series, ends, prior);
  const perDay = component === null ? null : rateOf(component, context.register);
  return {
    series,
    component,
    place: placeOf(component),
    ends,
    trend,
    perDay,
    by: byDay(series, trend, perDay),
  };
}

function byDay(series: WearSeries, { reach }: Trend, perDay: number | null): string | null {
  const last = series.points.at(-1);
  if (last === undefined) return null;
  const x = reach.state === 'reached' ? reach.x : soonest(reach);
  if (!Number.isFinite(x)) return null;
  if (reach.state === 'reached') return series.points.findLast((point) => point.x <= x)?.on ?? last.on;
  if (series.clock === 'days') return isoDay(x);
  return perDay === null ? null : dayAtHours(x, { hours: last.x, u: last.xU, on: last.on }, perDay);
}

/**
 * The trends of a site's components: what is expected of each comes from all others. With `wheel` only those of components
 * that are or were in that wheel are worked out. The order of the inspections does not matter.
 */
export function wearsOf(
  inspections: readonly InspectionMeasured[],
  { register, tables, on }: Omit<WearContext, 'fleet'>,
  wheel: string | null = null,
): Wear[] {
  const all = seriesOf(inspections, register.components);
  const fleet = fleetOf(all, (component) => register.components.get(component)?.componentKind ?? '');
  return all
    .filter(
      ({ component, points }) => wheel === null || isOf(wheel, register.components.get(component), points),
    )
    .map((series) => wearOf(series, { register, tables, fleet, on }));
}

function isOf(wheel: string, component: ComponentState | undefined, points: WearSeries['points']): boolean {
  const stays = component?.fitments ?? [];
  return stays.some((stay) => stay.wheel === wheel) || points.some((point) => point.wheel === wheel);
}

/** Negative when the first calls sooner for a look: at its limit first, then by day; without a day by what is known. */
export function byUrgency(a: Wear, b: Wear): number {
  const [isA, isB] = [a, b].map(({ trend }) => trend.reach.state === 'reached');
  if (isA !== isB) return isA ? -1 : 1;
  const [dayA, dayB] = [a.by ?? '~', b.by ?? '~'];
  return dayA === dayB ? byWorry(a.trend.reach, b.trend.reach) : dayA < dayB ? -1 : 1;
}

/** Reasons to look at a component again, the soonest first, from all its trends, the tables and the site's interval. */
export function looksAt(
  wears: readonly Wear[],
  context: Omit<WearContext, 'fleet'>,
  words: (wear: Wear) => string,
): readonly LookAgain[] {
  const component = wears[0]?.component ?? null;
  const part = factsOf(component, context);
  if (component === null || part === null) return [];
  const days = wears.flatMap(({ series }) => series.points.map(({ on }) => on)).sort();
  return nextLooks({
    component,
    part,
    tables: context.tables,
    policy: context.register.policies.get(component.site) ?? null,
    lastInspected: days.at(-1) ?? null,
    trends: wears.flatMap((wear) => (wear.by === null ? [] : [{ by: wear.by, words: words(wear) }])),
    on: context.on,
  });
}
