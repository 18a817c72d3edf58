import { agree, byInstrument, type Combined, combine, groupsAt, type Mean } from './combine.ts';
import type { ReadingEvidence } from './evidence.ts';
import { type Class, type PositionValue, type ReadingGroup, worse } from './finding.ts';
import { supportsKeep } from './support.ts';

/** A value of a place, with the readings it is made of. */
export interface Taken extends Combined {
  readonly readings: readonly string[];
}

/** A mean with the readings behind it. */
interface Group extends Mean {
  readonly readings: readonly string[];
}

/** A reading that cannot support keep: as read, and with the spread of all such readings by its instrument at the place. */
export interface Unsupported extends Group {
  readonly spreadU: number;
}

/**
 * What the readings of a place say. The class of the place is the worst of those by each of `bearing`, and no milder than
 * the mildest of those by `alone`.
 */
export interface Takes {
  readonly bearing: readonly Taken[];
  /** Each instrument that can support keep on its own, where several were put together. */
  readonly alone: readonly Taken[];
  /** Readings of the groups that disagree; empty where all agree. */
  readonly disagreeing: readonly string[];
}

function takenAlone({ value, u, readings }: Group): Taken {
  return { value, u, birgeRatio: 1, readings };
}

function together(groups: readonly Group[]): Taken {
  return { ...combine(groups), readings: groups.flatMap((group) => group.readings) };
}

function supportedTakes(groups: readonly Group[]): Takes {
  if (groups.length === 0) return { bearing: [], alone: [], disagreeing: [] };
  const each = groups.map(takenAlone);
  if (groups.length === 1) return { bearing: each, alone: [], disagreeing: [] };
  return agree(groups)
    ? { bearing: [together(groups)], alone: each, disagreeing: [] }
    : { bearing: each, alone: [], disagreeing: groups.flatMap((group) => group.readings) };
}

/**
 * Instruments that agree are put together as their weighted mean, which may not be milder than each of them alone: that
 * errors of different gauges are independent is not known. Where they disagree, every one of them counts on its own, so
 * that the worst governs. A reading that cannot support keep can only speak against the part: it is held, one by one,
 * against what the others give without it, put together with them where it agrees, on its own where it does not. More
 * such readings therefore never make a place milder; on its own each has at least the u of the scatter among them.
 */
export function takesOf(supported: readonly Group[], unsupported: readonly Unsupported[]): Takes {
  const without = supportedTakes(supported);
  const against = unsupported.map((one) => {
    const agrees = supported.length > 0 && agree([...supported, one]);
    const disagrees = supported.length > 0 && !agrees;
    const take = agrees ? together([...supported, one]) : takenAlone({ ...one, u: one.spreadU });
    return { take, disagreeing: disagrees ? [...supported, one].flatMap((group) => group.readings) : [] };
  });
  return {
    bearing: [...against.map(({ take }) => take), ...without.bearing],
    alone: without.alone,
    disagreeing: [...new Set([...without.disagreeing, ...against.flatMap((one) => one.disagreeing)])],
  };
}

/** The class of a place, from the class by each way of taking its readings. Throws without any. */
export function classOf(bearing: readonly Class[], alone: readonly Class[]): Class {
  const mildest = alone.reduce<Class>((so, one) => (worse(so, one) === so ? one : so), 'scrap');
  return [...bearing, ...(alone.length === 0 ? [] : [mildest])].reduce(worse);
}

/** All readings of one quantity at one place, by instrument, with what they say together. */
export interface Place {
  readonly clock: number | null;
  readonly readings: readonly ReadingEvidence[];
  readonly groups: readonly ReadingGroup[];
  readonly takes: Takes;
}

/** Readings at one place that cannot support keep, each on its own. */
export function unsupportedAt(readings: readonly ReadingEvidence[]): Unsupported[] {
  return byInstrument(readings).flatMap((own) => {
    const values = own.map((reading) => reading.valueMm);
    const instrumentU = Math.max(...own.map((reading) => reading.uMm));
    // Half the range is s/√2 of the two farthest apart: it only grows with more readings, and is never below s/√n of all.
    const halfRange = (Math.max(...values) - Math.min(...values)) / 2;
    return own.map(({ id, valueMm, uMm }) => ({
      value: valueMm,
      u: uMm,
      spreadU: Math.hypot(instrumentU, halfRange),
      readings: [id],
    }));
  });
}

/** The readings of one place put together. Their order does not matter. */
export function placeAt(readings: readonly ReadingEvidence[]): Place {
  const supported = groupsAt(readings.filter(supportsKeep));
  const unsupported = readings.filter((reading) => !supportsKeep(reading));
  return {
    clock: readings[0]?.clock ?? null,
    readings,
    groups: [...supported, ...groupsAt(unsupported)],
    takes: takesOf(supported, unsupportedAt(unsupported)),
  };
}

/** All places where there are readings, round the clock; readings without a place come first. */
export function placesOf(readings: readonly ReadingEvidence[]): Place[] {
  const byClock = new Map<number | null, ReadingEvidence[]>();
  for (const reading of readings)
    byClock.set(reading.clock, [...(byClock.get(reading.clock) ?? []), reading]);
  return [...byClock.values()].map(placeAt).sort((a, b) => (a.clock ?? 0) - (b.clock ?? 0));
}

/** A place with the value that governs there. */
export function positionOf({ clock, readings, groups, takes }: Place, taken: Taken): PositionValue {
  const all = readings.length;
  return {
    clock,
    value: taken.value,
    u: taken.u,
    repeats: all,
    readings: readings.map((reading) => reading.id).sort(),
    ...(groups.length > 1 ? { groups, birgeRatio: taken.birgeRatio } : {}),
    ...(taken.readings.length < all ? { counted: [...taken.readings].sort() } : {}),
    ...(takes.disagreeing.length > 0 ? { disagree: true as const } : {}),
  };
}
