import { characteristicOf } from '../readings/index.ts';
import {
  boundsAsSize,
  type LimitRow,
  nominalU,
  type PartFacts,
  type RowInTable,
  rowsFor,
  type Table,
} from '../tolerances/index.ts';
import { positionsOf } from './combine.ts';
import type { ReadingEvidence } from './evidence.ts';
import {
  CLASSES,
  type Class,
  cite,
  type LimitFinding,
  type Missing,
  type PositionValue,
  type RuleCited,
  worse,
} from './finding.ts';
import { guardedClass, marginTo, probabilityOutside, simpleClass } from './probability.ts';
import { said } from './sentences.ts';
import { unsupported } from './support.ts';

/** What the engine needs beside the evidence of one part. */
export interface PartContext {
  readonly tables: readonly Table[];
  readonly part: PartFacts;
  /** Day of the verdict, ISO date. */
  readonly on: string;
  /** The rule that takes rework off the table, if one applies. */
  readonly noRework: RuleCited | null;
}

/** The context of a part on a day, with the rule against rework if one applies. */
export function contextOf(tables: readonly Table[], part: PartFacts, on: string): PartContext {
  const [ban] = rowsFor(tables, 'no rework', part, on);
  return { tables, part, on, noRework: ban === undefined ? null : cite(ban) };
}

/** Findings together with what keeps them from being enough. */
export interface Judged<F> {
  readonly findings: readonly F[];
  readonly missing: readonly Missing[];
}

/** One quantity in one zone and state: what a limit is compared with. */
interface Quantity {
  readonly characteristic: ReadingEvidence['characteristic'];
  readonly zone: ReadingEvidence['zone'];
  readonly state: ReadingEvidence['state'];
  readonly readings: readonly ReadingEvidence[];
}

function quantitiesOf(readings: readonly ReadingEvidence[]): Quantity[] {
  const groups = new Map<string, ReadingEvidence[]>();
  for (const reading of readings) {
    const key = [reading.characteristic, reading.zone, reading.state ?? ''].join('|');
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([, group]) => {
      const [first] = group;
      if (first === undefined) return [];
      return [
        { characteristic: first.characteristic, zone: first.zone, state: first.state, readings: group },
      ];
    });
}

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

function sizeLimits(row: LimitRow): SizeLimits {
  return {
    keep: boundsAsSize(row, row.keep),
    repair: row.repair === null ? null : boundsAsSize(row, row.repair),
    u: nominalU(row),
  };
}

function judge(governing: PositionValue, row: SizeLimits, risk: number): Judgement {
  const { value } = governing;
  const u = Math.hypot(governing.u, row.u);
  const beyondKeep = probabilityOutside(value, u, row.keep);
  const beyondRepair = row.repair === null ? beyondKeep : probabilityOutside(value, u, row.repair);
  return {
    governing,
    beyondKeep,
    beyondRepair,
    margin: marginTo(value, row.keep),
    guardedClass: guardedClass(beyondKeep, beyondRepair, risk),
    simpleClass: simpleClass(value, row.keep, row.repair),
  };
}

/** Negative when `a` is worse than `b`: class first, then the probabilities, then the margin. */
function worstFirst(pick: (j: Judgement) => Class): (a: Judgement, b: Judgement) => number {
  return (a, b) =>
    CLASSES.indexOf(pick(b)) - CLASSES.indexOf(pick(a)) ||
    b.beyondRepair - a.beyondRepair ||
    b.beyondKeep - a.beyondKeep ||
    a.margin - b.margin;
}

/** The finding of one quantity under one row. The worst place governs, never the mean over places. */
export function limitFinding(
  quantity: Quantity,
  readings: readonly ReadingEvidence[],
  { table, row }: RowInTable<LimitRow>,
  noRework: RuleCited | null,
): LimitFinding | null {
  const positions = positionsOf(readings);
  const { rule: decisionRule, risk } = table.decision;
  const pick = (j: Judgement) => (decisionRule === 'guarded' ? j.guardedClass : j.simpleClass);
  const limits = sizeLimits(row);
  const judged = positions.map((position) => judge(position, limits, risk)).sort(worstFirst(pick));
  const [worst] = judged;
  if (worst === undefined) return null;
  const plainClass = pick(worst);
  const forbidden = row.repairNeeds === 'rework' && noRework !== null;
  const banned = plainClass === 'repair' && forbidden ? noRework : null;
  return said<LimitFinding>({
    about: 'limit',
    characteristic: quantity.characteristic,
    state: quantity.state,
    zone: quantity.zone,
    positions,
    keep: limits.keep,
    repair: limits.repair,
    ...(row.boundsOf === undefined || row.boundsOf === 'value' || row.nominal === undefined
      ? {}
      : {
          relative: { boundsOf: row.boundsOf, nominal: row.nominal, keep: row.keep, repair: row.repair },
        }),
    risk,
    decisionRule,
    ...worst,
    guardedClass: judged.map((one) => one.guardedClass).reduce(worse),
    simpleClass: judged.map((one) => one.simpleClass).reduce(worse),
    class: banned === null ? plainClass : 'scrap',
    rule: cite({ table, row }),
    noRework: banned,
    ...(forbidden && row.repair !== null ? { reworkForbidden: true } : {}),
  });
}

/** Compares every measured quantity with every limit that applies. A quantity without a limit is missing a rule. */
export function judgeLimits(
  readings: readonly ReadingEvidence[],
  context: PartContext,
): Judged<LimitFinding> {
  const findings: LimitFinding[] = [];
  const missing: Missing[] = [];
  for (const quantity of quantitiesOf(readings)) {
    const { characteristic, zone, state } = quantity;
    const label = `${characteristicOf(characteristic).label}${state === null ? '' : ` (${state})`}`;
    const rows = rowsFor(context.tables, 'limit', context.part, context.on, zone).filter(
      ({ row }) =>
        row.characteristic === characteristic &&
        (row.states === undefined || (state !== null && row.states.includes(state))),
    );
    if (rows.length === 0) {
      missing.push({
        what: 'rule',
        text: `${label}, ${zone}: no limit on file.`,
        zone,
        characteristic,
        state,
      });
      continue;
    }
    const ofQuantity: LimitFinding[] = [];
    for (const inTable of rows) {
      const accepted = quantity.readings.filter((reading) => inTable.row.methods.includes(reading.method));
      const finding = limitFinding(quantity, accepted, inTable, context.noRework);
      if (finding !== null) ofQuantity.push(finding);
      else {
        const how = inTable.row.methods.join(' or ');
        missing.push({
          what: 'reading',
          text: `${label}, ${zone}: the limit asks for a reading by ${how}.`,
          zone,
          characteristic,
          state,
        });
      }
    }
    findings.push(...ofQuantity);
    if (ofQuantity.some((finding) => finding.class === 'keep')) {
      const keeps = (own: readonly ReadingEvidence[], inTable: RowInTable<LimitRow>) =>
        limitFinding(quantity, own, inTable, context.noRework)?.class === 'keep';
      missing.push(...unsupported(quantity.readings, rows, keeps));
    }
  }
  return { findings, missing };
}
