import { boundsAsSize, type LimitRow, nominalU, type Table } from '../tolerances/index.ts';
import { CLASSES, type Class, type LimitFinding } from './finding.ts';
import { classOf, type Place, positionOf, type Taken } from './place.ts';
import { guardedClass, marginTo, probabilityOutside, simpleClass } from './probability.ts';

type DecisionRule = Table['decision']['rule'];

/** What a finding says of its governing place. */
type Judgement = Pick<
  LimitFinding,
  'governing' | 'beyondKeep' | 'beyondRepair' | 'margin' | 'guardedClass' | 'simpleClass'
>;

/** The bounds of a row as sizes, and the u that its nominal size adds to each comparison. */
interface SizeLimits {
  readonly keep: LimitRow['keep'];
  readonly repair: LimitRow['repair'];
  readonly u: number;
}

/** The bounds of a row as sizes, whatever it counts them from. */
export function sizeLimits(row: LimitRow): SizeLimits {
  return {
    keep: boundsAsSize(row, row.keep),
    repair: row.repair === null ? null : boundsAsSize(row, row.repair),
    u: nominalU(row),
  };
}

type Judged = Omit<Judgement, 'governing'>;

/** One value under the bounds of a row: its probabilities, its margin and its class by either rule; mm, or mm² for areas. */
export function judgeTaken<T extends Pick<Taken, 'value' | 'u'>>(
  taken: T,
  row: SizeLimits,
  risk: number,
): Judged & { readonly taken: T } {
  const { value } = taken;
  const u = Math.hypot(taken.u, row.u);
  const beyondKeep = probabilityOutside(value, u, row.keep);
  const beyondRepair = row.repair === null ? beyondKeep : probabilityOutside(value, u, row.repair);
  return {
    taken,
    beyondKeep,
    beyondRepair,
    margin: marginTo(value, row.keep),
    guardedClass: guardedClass(beyondKeep, beyondRepair, risk),
    simpleClass: simpleClass(value, row.keep, row.repair),
  };
}

function by(rule: DecisionRule): (judged: Judged) => Class {
  return (judged) => (rule === 'guarded' ? judged.guardedClass : judged.simpleClass);
}

/** Negative when `a` is worse than `b`: class by the rule that decides first, then the probabilities, then the margin. */
export function worstFirst(rule: DecisionRule): (a: Judged, b: Judged) => number {
  const pick = by(rule);
  return (a, b) =>
    CLASSES.indexOf(pick(b)) - CLASSES.indexOf(pick(a)) ||
    b.beyondRepair - a.beyondRepair ||
    b.beyondKeep - a.beyondKeep ||
    a.margin - b.margin;
}

/** The class of a single value with standard uncertainty `u` by the rule of the table; mm, or mm² for areas. */
export function classOfValue(
  value: number,
  u: number,
  limits: SizeLimits,
  decision: Table['decision'],
): Class {
  return by(decision.rule)(judgeTaken({ value, u }, limits, decision.risk));
}

/**
 * One place under one row: its class by either rule, and the value that governs by the rule of the table. Of ways to take
 * the readings that give the same class the one with the most of them is shown.
 */
export function judgePlace(place: Place, limits: SizeLimits, decision: Table['decision']): Judgement {
  const judge = (taken: Taken) => judgeTaken(taken, limits, decision.risk);
  const [bearing, alone] = [place.takes.bearing.map(judge), place.takes.alone.map(judge)];
  const decided = (rule: DecisionRule) => classOf(bearing.map(by(rule)), alone.map(by(rule)));
  const all = decided(decision.rule);
  const order = worstFirst(decision.rule);
  const [governing] = [...bearing, ...alone]
    .filter((one) => by(decision.rule)(one) === all)
    .sort((a, b) => b.taken.readings.length - a.taken.readings.length || order(a, b));
  if (governing === undefined) throw new Error('Broken invariant: nothing gives the class of a place');
  const { taken, ...judged } = governing;
  return {
    ...judged,
    governing: positionOf(place, taken),
    guardedClass: decided('guarded'),
    simpleClass: decided('simple acceptance'),
  };
}
