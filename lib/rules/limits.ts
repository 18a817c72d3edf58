import { characteristicOf } from '../readings/index.ts';
import { type LimitRow, type PartFacts, type RowInTable, rowsFor, type Table } from '../tolerances/index.ts';
import { disagreements } from './disagree.ts';
import type { ReadingEvidence } from './evidence.ts';
import { cite, type LimitFinding, type Missing, type RuleCited, worse } from './finding.ts';
import { judgePlace, sizeLimits, worstFirst } from './judgePlace.ts';
import { placesOf } from './place.ts';
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

/** The finding of one quantity under one row. The worst place governs, never the mean over places. */
function limitFinding(
  quantity: Quantity,
  readings: readonly ReadingEvidence[],
  { table, row }: RowInTable<LimitRow>,
  noRework: RuleCited | null,
): LimitFinding | null {
  const { rule: decisionRule, risk } = table.decision;
  const limits = sizeLimits(row);
  const judged = placesOf(readings).map((place) => judgePlace(place, limits, table.decision));
  const [worst] = [...judged].sort(worstFirst(decisionRule));
  if (worst === undefined) return null;
  const plainClass = decisionRule === 'guarded' ? worst.guardedClass : worst.simpleClass;
  const forbidden = row.repairNeeds === 'rework' && noRework !== null;
  const banned = plainClass === 'repair' && forbidden ? noRework : null;
  return said<LimitFinding>({
    about: 'limit',
    characteristic: quantity.characteristic,
    state: quantity.state,
    zone: quantity.zone,
    positions: judged.map((one) => one.governing),
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
    missing.push(...disagreements(quantity.readings, rows));
    if (ofQuantity.some((finding) => finding.class === 'keep'))
      missing.push(...unsupported(quantity.readings, rows));
  }
  return { findings, missing };
}
