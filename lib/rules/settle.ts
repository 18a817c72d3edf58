import { must } from '../base/index.ts';
import { nominalU } from '../tolerances/index.ts';
import type { ReadingEvidence } from './evidence.ts';
import { CLASSES, type Class, type LimitFinding, worse } from './finding.ts';
import {
  after,
  type Both,
  distribution,
  type Joint,
  judgeBoth,
  type Measurement,
  type Place,
  placeOf,
  pooledDeviation,
  worstOf,
} from './prePosterior.ts';

/** An instrument at hand with the standard uncertainty of one reading, mm. */
export interface InstrumentAtHand {
  readonly name: string;
  readonly uMm: number;
}

/** One thing to do, and what it would probably give. Probabilities 0 … 1. */
export interface SettlingAction {
  readonly places: readonly (number | null)[];
  readonly instrument: string;
  /** Readings at each of the places. */
  readonly repeats: number;
  /** Probability that guarded and simple class then agree. */
  readonly settled: number;
  /** Probability that they then agree on each class; they add up to `settled`. */
  readonly as: Readonly<Record<Class, number>>;
}

/** What would settle the class of a finding; null in `whatWouldSettle` where it is settled. */
export interface Settling {
  /** Places whose guarded class is worse than what the values alone say of the whole. */
  readonly doubtful: readonly (number | null)[];
  /** Best first; only actions that settle with at least `WORTH_NAMING`. */
  readonly actions: readonly SettlingAction[];
  /** The u of one reading, mm (mm²), that would settle it with 80 %, all doubtful places read once; null: even an exact one would not. */
  readonly neededU: number | null;
  /** Whether the u of the size of the new part is why: known exactly, some u would settle it. */
  readonly newSizeInDoubt: boolean;
}

/** Actions less likely to settle than this are not worth the walk; our own choice. */
const WORTH_NAMING = 0.25;
/** The chance that `neededU` is stated for; our own choice. */
const WANTED = 0.8;
const REPEATS_MAX = 5;
/** Differences of probability below this do not make more readings worth taking; our own choice. */
const NEARLY_EQUAL = 0.02;

/** A finding made ready: its places, what each is now, and the doubtful ones. */
interface Case {
  readonly finding: LimitFinding;
  readonly ofNominal: number;
  readonly places: readonly (Place & { readonly now: Both })[];
  readonly spread: number;
  /** Distributions worked out so far, by place and measurement. */
  readonly known: Map<string, Joint>;
}

function distributionAfter(
  { finding, ofNominal, places, known }: Case,
  place: Place,
  how: Measurement,
): Joint {
  const key = JSON.stringify([places.findIndex((one) => one.at === place.at), how]);
  const found = known.get(key);
  if (found !== undefined) return found;
  const joint = distribution((z) => {
    return judgeBoth(finding, after(place, how, z), ofNominal);
  });
  known.set(key, joint);
  return joint;
}

function outcome(one: Case, measured: readonly Place[], how: Measurement) {
  const joints = one.places.map(
    (place): Joint =>
      measured.includes(place)
        ? distributionAfter(one, place, how)
        : new Map([['now', { ...place.now, p: 1 }]]),
  );
  const all = [...joints.reduce(worstOf).values()];
  const as = Object.fromEntries(
    CLASSES.map((name) => [
      name,
      all.filter((b) => b.guarded === name && b.simple === name).reduce((sum, b) => sum + b.p, 0),
    ]),
  ) as Record<Class, number>;
  return { settled: as.keep + as.repair + as.scrap, as };
}

/** The surest first; of those nearly as sure the one with the fewest readings. */
function ranked(actions: readonly SettlingAction[]): SettlingAction[] {
  const effort = (action: SettlingAction) => action.places.length * action.repeats;
  const left = [...actions];
  const order: SettlingAction[] = [];
  while (left.length > 0) {
    const best = Math.max(...left.map((action) => action.settled));
    const near = left.filter((action) => action.settled >= best - NEARLY_EQUAL);
    near.sort(
      (a, b) => effort(a) - effort(b) || b.settled - a.settled || (a.instrument < b.instrument ? -1 : 1),
    );
    const [next] = near;
    if (next === undefined) break;
    order.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return order;
}

/** The largest u of a single reading by an instrument that was not used yet, for which all doubtful places read once settle with `WANTED`. */
function neededU(one: Case, doubtful: readonly Place[]): number | null {
  const chance = (uMm: number) =>
    outcome(one, doubtful, { name: '', uMm, repeats: 1, spread: one.spread }).settled;
  const largest = Math.max(...doubtful.map((place) => place.at.u));
  let good = largest;
  let halvings = 0;
  while (chance(good) < WANTED) {
    halvings += 1;
    if (halvings > 12) return null;
    good /= 2;
  }
  let bad = 2 * good;
  for (let step = 0; step < 20; step += 1) {
    const middle = (good + bad) / 2;
    if (chance(middle) >= WANTED) good = middle;
    else bad = middle;
  }
  return good;
}

/** Of one to five repeats the fewest that settle nearly as surely as the best of them. */
function bestRepeats(one: Case, measured: readonly Place[], { name, uMm }: InstrumentAtHand): SettlingAction {
  const known = measured.every((place) => place.groups.some((group) => group.instrument === name));
  // Where repeats are known to scatter, a single reading by another instrument would hide its own scatter.
  const least = one.spread > 0 && !known ? 2 : 1;
  const most = one.spread > 0 ? REPEATS_MAX : 1;
  const tried = Array.from({ length: most - least + 1 }, (_, i): SettlingAction => {
    const repeats = least + i;
    return {
      places: measured.map((place) => place.at.clock),
      instrument: name,
      repeats,
      ...outcome(one, measured, { name, uMm, repeats, spread: one.spread }),
    };
  });
  const best = Math.max(...tried.map((action) => action.settled));
  return must(
    tried.find((action) => action.settled >= best - NEARLY_EQUAL),
    'action',
  );
}

/** One action for each doubtful place alone and for all of them together, with each instrument. */
function actionsFor(
  one: Case,
  doubtful: readonly Place[],
  instruments: readonly InstrumentAtHand[],
): SettlingAction[] {
  const sets = [...doubtful.map((place) => [place]), ...(doubtful.length > 1 ? [doubtful] : [])];
  return sets.flatMap((measured) => instruments.map((instrument) => bestRepeats(one, measured, instrument)));
}

/**
 * What would settle the class of a limit finding, that is make the guarded class that of the values alone: which places
 * to measure again, with which of the instruments at hand, how often, and how likely that is to settle it. Null where
 * it is settled, or where a repair that is not on offer makes both answers the same.
 *
 * Pre-posterior analysis (from memory: Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961): the truth at a
 * place is normal about the present value with its u (JCGM 106 6.2), a new reading normal about the truth with the
 * instrument's u; each possible reading is put together with what is there as `takesOf` does, and the probability of
 * those that settle is added up. An instrument's u is systematic: repeats with it lessen only the scatter that repeats
 * in this finding have shown. Places and instruments are taken as independent, the scatter as what was seen so far.
 * `readings` are those of the part; `instruments` those that suit the quantity and may support keep, u in mm.
 */
export function whatWouldSettle(
  finding: LimitFinding,
  readings: readonly ReadingEvidence[],
  instruments: readonly InstrumentAtHand[],
): Settling | null {
  const ofNominal = finding.relative === undefined ? 0 : nominalU(finding.relative);
  const places = finding.positions.map((at) => {
    const place = placeOf(at, readings);
    return { ...place, now: judgeBoth(finding, place.takes, ofNominal) };
  });
  const guarded = places.map((place) => place.now.guarded).reduce(worse);
  const simple = places.map((place) => place.now.simple).reduce(worse);
  if (guarded === simple) return null;
  const doubtful = places.filter((place) => CLASSES.indexOf(place.now.guarded) > CLASSES.indexOf(simple));
  const one: Case = { finding, ofNominal, places, spread: pooledDeviation(places), known: new Map() };
  const actions = actionsFor(one, doubtful, instruments).filter((action) => action.settled >= WORTH_NAMING);
  const needed = neededU(one, doubtful);
  const exactly = { ...one, ofNominal: 0, known: new Map() };
  return {
    doubtful: doubtful.map((place) => place.at.clock),
    actions: ranked(actions),
    neededU: needed,
    newSizeInDoubt: needed === null && ofNominal > 0 && neededU(exactly, doubtful) !== null,
  };
}
