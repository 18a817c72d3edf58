import { normalCdf } from '../units/index.ts';
import { groupsAt, type Mean, sampleDeviation } from './combine.ts';
import type { ReadingEvidence } from './evidence.ts';
import { type Class, type LimitFinding, onOffer, type PositionValue, worse } from './finding.ts';
import { judgeTaken } from './judgePlace.ts';
import { classOf, type Takes, takesOf, type Unsupported, unsupportedAt } from './place.ts';
import { supportsKeep } from './support.ts';

interface Group {
  readonly instrument: string | null;
  readonly value: number;
  readonly u: number;
  readonly repeats: number;
  readonly readings: readonly string[];
  /** Of the instrument itself, and the sample standard deviation of its repeats here (0: not seen). */
  readonly ownU: number;
  readonly deviation: number;
}

/** A place as it is now: its value, the instruments that can support keep, readings that cannot, and what they say together. */
export interface Place {
  readonly at: PositionValue;
  readonly groups: readonly Group[];
  readonly unsupported: readonly Unsupported[];
  readonly takes: Takes;
}

/**
 * What is known at one place of a finding, from the readings of the part. A size from a mark is no reading of the part:
 * it counts as one measurement by no instrument.
 */
export function placeOf(at: PositionValue, readings: readonly ReadingEvidence[]): Place {
  const here = readings.filter((reading) => at.readings.includes(reading.id));
  if (here.length === 0) {
    const { value, u } = at;
    const groups = [{ instrument: null, value, u, repeats: 1, ownU: u, deviation: 0, readings: at.readings }];
    return { at, groups, unsupported: [], takes: takesOf(groups, []) };
  }
  const groups = groupsAt(here.filter(supportsKeep)).map((group): Group => {
    const own = here.filter((reading) => group.readings.includes(reading.id));
    return {
      ...group,
      ownU: Math.max(...own.map((reading) => reading.uMm)),
      deviation: sampleDeviation(own.map((reading) => reading.valueMm)),
    };
  });
  const unsupported = unsupportedAt(here.filter((reading) => !supportsKeep(reading)));
  return { at, groups, unsupported, takes: takesOf(groups, unsupported) };
}

/** Pooled sample standard deviation of all repeats with one instrument at one place; 0 where nothing was repeated. */
export function pooledDeviation(places: readonly Place[]): number {
  const groups = places.flatMap((place) => place.groups);
  const freedom = groups.reduce((sum, group) => sum + group.repeats - 1, 0);
  const squares = groups.reduce((sum, group) => sum + (group.repeats - 1) * group.deviation ** 2, 0);
  return freedom === 0 ? 0 : Math.sqrt(squares / freedom);
}

/** Both classes at one place, as they count: a repair that is not on offer is scrap. */
export interface Both {
  readonly guarded: Class;
  readonly simple: Class;
}

/** Both classes of a place under the limit of a finding; `ofNominal` is the u of the new size. */
export function judgeBoth(finding: LimitFinding, { bearing, alone }: Takes, ofNominal: number): Both {
  const { keep, repair, risk } = finding;
  const judge = (one: Mean) => judgeTaken(one, { keep, repair, u: ofNominal }, risk);
  const [ofBearing, ofAlone] = [bearing.map(judge), alone.map(judge)];
  const classBy = (rule: 'guardedClass' | 'simpleClass') =>
    onOffer(
      finding,
      classOf(
        ofBearing.map((one) => one[rule]),
        ofAlone.map((one) => one[rule]),
      ),
    );
  return { guarded: classBy('guardedClass'), simple: classBy('simpleClass') };
}

/** The measurement that is thought of: `spread` is the repeatability known from repeats, 0 when unknown. */
export interface Measurement {
  readonly name: string;
  readonly uMm: number;
  readonly repeats: number;
  readonly spread: number;
}

/**
 * The place after the measurement, for a standard normal `z`. By another instrument: the mean of its readings is normal
 * about the present value with the variances of the truth, the instrument and its repeats added. By one that read here
 * before: its error is the same again, so that only the repeatability of its mean is drawn, and only that is lessened.
 */
export function after(place: Place, { name, uMm, repeats, spread }: Measurement, z: number): Takes {
  const { at, groups, unsupported } = place;
  const before = groups.find((group) => group.instrument === name);
  const others = groups.filter((group) => group !== before);
  const measured = (value: number, u: number) =>
    takesOf([...others, { value, u, readings: [] }], unsupported);
  if (before === undefined) {
    const value = at.value + z * Math.hypot(at.u, uMm, spread / Math.sqrt(repeats));
    return measured(value, repeats > 1 ? Math.hypot(uMm, spread / Math.sqrt(repeats)) : uMm);
  }
  const n = before.repeats;
  const s = n > 1 ? before.deviation : spread;
  const value = before.value + z * s * Math.sqrt(repeats / (n * (n + repeats)));
  return measured(value, Math.hypot(Math.max(before.ownU, uMm), s / Math.sqrt(n + repeats)));
}

/** Probabilities of the pairs of classes. */
export type Joint = ReadonlyMap<string, Both & { readonly p: number }>;

function add(joint: Map<string, Both & { p: number }>, { guarded, simple }: Both, p: number): void {
  const key = `${guarded}|${simple}`;
  joint.set(key, { guarded, simple, p: (joint.get(key)?.p ?? 0) + p });
}

/** Standard normal values are followed to ±Z_MAX (2 × 10⁻⁹ beyond) in steps of STEP, changes between them by bisection. */
const Z_MAX = 6;
const STEP = 1 / 32;

/**
 * The distribution of both classes at one place over a standard normal variate. The classes are constant between a few
 * values of z, so that the integral is a sum of differences of Φ, exact but for intervals narrower than STEP.
 */
export function distribution(classesAt: (z: number) => Both): Joint {
  const same = (a: Both, b: Both) => a.guarded === b.guarded && a.simple === b.simple;
  const joint = new Map<string, Both & { p: number }>();
  let [last, lastZ, upTo] = [classesAt(-Z_MAX), -Z_MAX, 0];
  for (let i = 1; i <= (2 * Z_MAX) / STEP; i += 1) {
    const z = -Z_MAX + i * STEP;
    const here = classesAt(z);
    if (!same(here, last)) {
      let [low, high] = [lastZ, z];
      for (let halving = 0; halving < 40; halving += 1) {
        const middle = (low + high) / 2;
        if (same(classesAt(middle), last)) low = middle;
        else high = middle;
      }
      add(joint, last, normalCdf(high) - upTo);
      [last, upTo] = [here, normalCdf(high)];
    }
    lastZ = z;
  }
  add(joint, last, 1 - upTo);
  return joint;
}

/** The distribution of the worst of two independent places by each rule. */
export function worstOf(a: Joint, b: Joint): Joint {
  const joint = new Map<string, Both & { p: number }>();
  for (const x of a.values())
    for (const y of b.values())
      add(joint, { guarded: worse(x.guarded, y.guarded), simple: worse(x.simple, y.simple) }, x.p * y.p);
  return joint;
}
