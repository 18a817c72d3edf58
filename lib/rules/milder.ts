import { characteristicOf } from '../readings/index.ts';
import {
  type Bounds,
  boundsAsSize,
  codesIn,
  codesOf,
  type LimitRow,
  type LintFinding,
  nominalU,
  type Place,
  type Table,
  zonedPlacesOfLimit,
} from '../tolerances/index.ts';
import { classUnder } from './classUnder.ts';
import { CLASSES, type RuleCited } from './finding.ts';
import { contextOf } from './limits.ts';
import { sizeText } from './words.ts';

/** A limit with its place in the table, and what its answer to a reading depends on. */
interface Limit {
  readonly row: LimitRow;
  readonly index: number;
  readonly keep: Bounds;
  /** Values that are not scrap. */
  readonly usable: Bounds;
  readonly u: number;
}

/** The limits that decide together on a reading at one place. */
interface Deciding extends Omit<Place, 'diameterCode'> {
  readonly limits: readonly Limit[];
  readonly noRework: RuleCited | null;
}

/** A worse reading and a better one that gets the more severe answer, and the row that gives it. */
interface Milder {
  readonly worse: number;
  readonly better: number;
  readonly by: Limit;
}

/** How a row judges a value; the engine's own unless somebody looks on. */
type Judging = typeof classUnder;

const METHODS = ['gauge', 'photo'] as const;
/** Parts of the plausible range: between values that are tried, close about a bound, and the uncertainty tried. */
const [STEPS, CLOSE, UNCERTAIN] = [40, 1000, 200];

function limitOf(row: LimitRow, index: number): Limit {
  const [keep, usable] = [boundsAsSize(row, row.keep), boundsAsSize(row, row.repair ?? row.keep)];
  return { row, index, keep, usable, u: nominalU(row) };
}

function within(inner: Bounds, outer: Bounds): boolean {
  return (
    (inner.min ?? Number.NEGATIVE_INFINITY) >= (outer.min ?? Number.NEGATIVE_INFINITY) &&
    (inner.max ?? Number.POSITIVE_INFINITY) <= (outer.max ?? Number.POSITIVE_INFINITY)
  );
}

/** Whether one limit is as strict as another to every reading: the truth lies outside wider bounds no more probably. */
function asStrict(one: Limit, other: Limit): boolean {
  return (
    one.u === other.u &&
    one.row.repairNeeds === other.row.repairNeeds &&
    within(one.keep, other.keep) &&
    within(one.usable, other.usable)
  );
}

/** The limits without those beside which another is as strict: the strictest answer is one of theirs. */
function strictest(limits: readonly Limit[]): Limit[] {
  let front: Limit[] = [];
  for (const limit of limits) {
    if (front.some((one) => asStrict(one, limit))) continue;
    front = front.filter((one) => !asStrict(limit, one));
    front.push(limit);
  }
  return front;
}

/** The largest of the lower ends and the smallest of the upper ones: where any answer of all these limits together can change. */
function decidingEnds(bounds: readonly Bounds[]): number[] {
  const low = Math.max(...bounds.map(({ min }) => min ?? Number.NEGATIVE_INFINITY));
  const high = Math.min(...bounds.map(({ max }) => max ?? Number.POSITIVE_INFINITY));
  return [low, high].filter(Number.isFinite);
}

/**
 * Values at which the strictest answer of some rows can change, close about them and between them, and others over all
 * that is plausible. A value within the strictest bound at an end is within all others at that end, so that only that
 * one can part two answers; rows that need rework are taken apart, since a rule against it makes their repair scrap.
 */
function valuesToTry(limits: readonly Limit[], { min, max }: { min: number; max: number }): number[] {
  const span = max - min;
  const ends = (['rework', 'upkeep'] as const).flatMap((needs) => {
    const own = limits.filter(({ row }) => row.repairNeeds === needs);
    return [...decidingEnds(own.map(({ keep }) => keep)), ...decidingEnds(own.map(({ usable }) => usable))];
  });
  const sorted = [...new Set(ends)].sort((a, b) => a - b);
  const between = sorted.slice(1).map((end, i) => (end + (sorted[i] ?? end)) / 2);
  const near = sorted.flatMap((end) => [end - span / CLOSE, end, end + span / CLOSE]);
  const steps = Array.from({ length: STEPS + 1 }, (_, i) => min + (span * i) / STEPS);
  return [...new Set([...steps, ...near, ...between])].sort((a, b) => a - b);
}

/** The answer to every value: how severe it is, and the first row that gives it. */
function answersTo(
  values: readonly number[],
  u: number,
  { limits, noRework }: Deciding,
  table: Table,
  judging: Judging,
): { readonly severity: number; readonly by: Limit }[] {
  const judges = limits.map((by) => ({ by, classOf: judging({ table, row: by.row }, noRework) }));
  return values.map((value) =>
    judges
      .map(({ by, classOf }) => ({ by, severity: CLASSES.indexOf(classOf(value, u)) }))
      .reduce((worst, one) => (one.severity > worst.severity ? one : worst)),
  );
}

/** The first pair of neighbouring values of which the worse one has the milder class. */
function firstMilder(
  values: readonly number[],
  answers: ReturnType<typeof answersTo>,
  worseIs: 'higher' | 'lower',
): Milder | null {
  for (const [i, after] of answers.entries()) {
    const before = answers[i - 1];
    if (before === undefined) continue;
    const [lower, higher] = [values[i - 1] ?? 0, values[i] ?? 0];
    if (worseIs === 'higher' && after.severity < before.severity)
      return { worse: higher, better: lower, by: before.by };
    if (worseIs === 'lower' && after.severity > before.severity)
      return { worse: lower, better: higher, by: after.by };
  }
  return null;
}

/** The limits of one quantity in one zone and state, with the diameters at which each decides. */
interface Zoned extends Omit<Place, 'diameterCode'> {
  readonly limits: (Limit & { readonly codes: readonly number[] })[];
}

function limitsByZone(table: Table): Iterable<Zoned> {
  const groups = new Map<string, Zoned>();
  for (const [index, row] of table.rows.entries()) {
    if (row.type !== 'limit') continue;
    const codes = codesOf(table, row);
    const limit = limitOf(row, index);
    for (const place of zonedPlacesOfLimit(table, row)) {
      const key = [row.characteristic, place.component, place.zone, place.state].join();
      const group = groups.get(key) ?? { ...place, limits: [] };
      groups.set(key, group);
      group.limits.push({ ...limit, codes });
    }
  }
  return groups.values();
}

/** The limits by the places they decide at. */
function limitsAtPlaces(table: Table): { readonly place: Place; readonly limits: readonly Limit[] }[] {
  return [...limitsByZone(table)].flatMap(({ limits, ...zoned }) =>
    codesIn(undefined).map((diameterCode) => ({
      place: { ...zoned, diameterCode },
      limits: limits.filter(({ codes }) => codes.includes(diameterCode)),
    })),
  );
}

/** The rule against rework at a place. */
function noReworkAt(table: Table, { component, diameterCode }: Place): RuleCited | null {
  const part = {
    componentKind: component,
    maker: table.scope.makers[0] ?? '',
    series: table.scope.series[0] ?? '',
    construction: table.scope.constructions[0] ?? 'five-piece',
    diameterCode,
  } as const;
  return contextOf([table], part, table.effectiveFrom).noRework;
}

/** Every set of limits that decide together, once: places where the same rows decide get the same answers. */
function decidingTogether(table: Table): Deciding[] {
  const sets = new Map<string, Deciding>();
  const bans = new Map<string, RuleCited | null>();
  for (const { place, limits } of limitsAtPlaces(table)) {
    const part = `${place.component},${place.diameterCode}`;
    const noRework = bans.get(part) ?? noReworkAt(table, place);
    bans.set(part, noRework);
    for (const method of METHODS) {
      const accepting = limits.filter(({ row }) => row.methods.includes(method));
      if (accepting.length === 0) continue;
      const key = `${noRework === null} ${accepting.map(({ index }) => index).join()}`;
      if (!sets.has(key)) sets.set(key, { ...place, limits: accepting, noRework });
    }
  }
  return [...sets.values()];
}

function milderAt(deciding: Deciding, table: Table, judging: Judging): Milder | null {
  const [first] = deciding.limits;
  if (first === undefined) return null;
  const { worse, plausible } = characteristicOf(first.row.characteristic);
  // Keep lies within repair, so that nothing farther out on either side is milder.
  if (worse === 'either') return null;
  const limits = strictest(deciding.limits);
  const values = valuesToTry(limits, plausible);
  for (const u of [0, (plausible.max - plausible.min) / UNCERTAIN]) {
    const milder = firstMilder(values, answersTo(values, u, { ...deciding, limits }, table, judging), worse);
    if (milder !== null) return milder;
  }
  return null;
}

function told({ worse, better, by: { row, index } }: Milder, { zone }: Deciding): LintFinding {
  const { label, worse: worseIs } = characteristicOf(row.characteristic);
  const [bad, good] = [worse, better].map((value) => sizeText(row.characteristic, value));
  return {
    lint: 'worse is milder',
    severity: 'error',
    rows: [row.row],
    field: `rows.${index}`,
    message: `${label}, ${zone}: ${bad} gets a milder verdict than ${good}, though it is worse`,
    wayOut: `A ${worseIs} value is worse here: check which bounds are min and which are max.`,
  };
}

/**
 * Searches every limit of a table for a worse reading that gets a milder verdict: readings over the plausible range of
 * the characteristic, closely about every bound that decides, with and without uncertainty, judged by the engine
 * itself. Which way is worse comes from the characteristic. Told once of each quantity in its zone and state, and once
 * of a row, the one that is too severe to the better reading. Work grows with the rows times the places they reach.
 */
export function findWorseButMilder(table: Table, judging: Judging = classUnder): LintFinding[] {
  const found = new Map<number, LintFinding>();
  const seen = new Set<string>();
  for (const deciding of decidingTogether(table)) {
    const { component, zone, state, limits } = deciding;
    const quantity = [limits[0]?.row.characteristic, component, zone, state].join();
    if (seen.has(quantity)) continue;
    const milder = milderAt(deciding, table, judging);
    if (milder === null) continue;
    seen.add(quantity);
    if (!found.has(milder.by.index)) found.set(milder.by.index, told(milder, deciding));
  }
  return [...found.entries()].sort(([a], [b]) => a - b).map(([, finding]) => finding);
}
