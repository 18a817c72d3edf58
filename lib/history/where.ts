import type { ConstructionId, ZoneId } from '../wheel/index.ts';
import { binomialShare, poissonRate, type Rate } from './rates.ts';
import type { Find, FindKind, Visit } from './visit.ts';

/** A visit with where its wheel stood at the time. */
export interface PlacedVisit extends Visit {
  readonly machine: string;
  readonly position: string;
}

/** Which visits and finds are counted; null: all. Days are ISO dates in UTC, both included. */
export interface WhereFilter {
  readonly construction: ConstructionId;
  readonly kind: FindKind | null;
  readonly from: string | null;
  readonly to: string | null;
}

/** Visits of a construction in a period, each with the finds that are counted. */
export function visitsWithin(
  visits: readonly PlacedVisit[],
  { construction, kind, from, to }: WhereFilter,
): readonly PlacedVisit[] {
  return visits
    .filter((visit) => visit.construction === construction)
    .filter(({ at }) => (from === null || at >= from) && (to === null || at.slice(0, 10) <= to))
    .map((visit) => ({ ...visit, finds: visit.finds.filter(({ what }) => kind === null || what === kind) }));
}

/** How often something was found in a zone, and how often the zone was seen. */
export interface ZoneCount {
  readonly slot: string;
  readonly zone: ZoneId;
  readonly count: number;
  readonly seen: number;
  /** Finds by whole clock hour, 1 to 12; halves are counted with the hour before them. */
  readonly byHour: readonly number[];
  /** Finds of which nobody said where round the rim. */
  readonly noClock: number;
}

/** The hour of a clock position: 12.5 and 0.5 are half past twelve. */
function hourOf(clock: number): number {
  return Math.floor(clock) % 12 || 12;
}

/** Counts for each of the zones given, in their order; finds in zones that are not among them come last. */
export function zoneCounts(
  visits: readonly PlacedVisit[],
  zones: readonly { readonly slot: string; readonly zone: ZoneId }[],
): readonly ZoneCount[] {
  const keyOf = (place: { readonly slot: string; readonly zone: ZoneId }) => `${place.slot}|${place.zone}`;
  const finds = new Map<string, Find[]>();
  for (const find of visits.flatMap((visit) => visit.finds))
    finds.set(keyOf(find), [...(finds.get(keyOf(find)) ?? []), find]);
  const seen = new Map<string, number>();
  for (const { slot, zones: each } of visits.flatMap((visit) => visit.parts)) {
    for (const zone of each) seen.set(`${slot}|${zone}`, (seen.get(`${slot}|${zone}`) ?? 0) + 1);
  }
  const named = new Set(zones.map(keyOf));
  const others = [...finds.values()].flatMap(([find]) =>
    find === undefined || named.has(keyOf(find)) ? [] : [{ slot: find.slot, zone: find.zone }],
  );
  return [...zones, ...others].map(({ slot, zone }) => {
    const here = finds.get(keyOf({ slot, zone })) ?? [];
    return {
      slot,
      zone,
      count: here.length,
      seen: seen.get(keyOf({ slot, zone })) ?? 0,
      byHour: Array.from(
        { length: 12 },
        (_, i) => here.filter(({ clock }) => clock !== null && hourOf(clock) === i + 1).length,
      ),
      noClock: here.filter(({ clock }) => clock === null).length,
    };
  });
}

/** How often things were found on the parts of one group. */
export interface GroupRate {
  readonly group: string;
  /** Parts looked at, each as often as it was. */
  readonly inspected: number;
  readonly finds: number;
  /** How many of them had any find. */
  readonly withFinds: number;
  /** Finds per part looked at, exact Poisson interval. */
  readonly rate: Rate;
  /** Share of looks at parts with any find, exact binomial interval. */
  readonly share: Rate;
  readonly few: boolean;
}

/** Fewer looks at parts than this say little, whatever the interval. Own choice. */
export const FEW_LOOKS = 20;

type Part = PlacedVisit['parts'][number];

/**
 * Rates of finds by a group of parts: machine, position, maker. A find that is recorded again at a later inspection counts
 * again, as the part was looked at again. Groups in the order of their rate, the highest first.
 */
export function ratesBy(
  visits: readonly PlacedVisit[],
  groupOf: (visit: PlacedVisit, part: Part) => string,
): readonly GroupRate[] {
  const groups = new Map<string, { inspected: number; finds: number; withFinds: number }>();
  for (const visit of visits) {
    for (const part of visit.parts.filter(({ zones }) => zones.length > 0)) {
      const group = groupOf(visit, part);
      const found = visit.finds.filter(({ slot }) => slot === part.slot).length;
      const known = groups.get(group) ?? { inspected: 0, finds: 0, withFinds: 0 };
      groups.set(group, {
        inspected: known.inspected + 1,
        finds: known.finds + found,
        withFinds: known.withFinds + (found > 0 ? 1 : 0),
      });
    }
  }
  return [...groups]
    .flatMap(([group, counts]) => {
      const rate = poissonRate(counts.finds, counts.inspected);
      const share = binomialShare(counts.withFinds, counts.inspected);
      if (!rate.ok || !share.ok) throw new Error('Broken invariant: counts of a group are whole numbers');
      return [{ group, ...counts, rate: rate.value, share: share.value, few: counts.inspected < FEW_LOOKS }];
    })
    .sort((a, b) => b.rate.value - a.rate.value || (a.group < b.group ? -1 : 1));
}
