import { type RowInTable, rowsFor, type TestRow } from '../tolerances/index.ts';
import { showNumber, showProbability } from '../units/index.ts';
import type { Slot, ZoneId } from '../wheel/index.ts';
import { monthsBefore } from './dates.ts';
import type { PartEvidence, TestEvidence } from './evidence.ts';
import type { Missing } from './finding.ts';
import type { PartContext } from './limits.ts';
import { probabilityOutside } from './probability.ts';
import { sourceText } from './words.ts';

type Hours = { readonly value: number; readonly u: number } | null;

/** Whether a test is recorded at more hours on duty than the part has now, beyond its expanded uncertainty (k = 2). */
function contradictsHours(test: TestEvidence, hours: Hours): boolean {
  const at = test.dutyHours ?? null;
  return at !== null && hours !== null && at > hours.value + 2 * hours.u;
}

/** Whether a test is as recent as the row asks; its hours are left aside here. */
function inMonths(test: TestEvidence, row: TestRow, on: string): boolean {
  const since = row.withinMonths === undefined ? '' : monthsBefore(on, row.withinMonths);
  return test.on >= since && test.on <= on;
}

/**
 * Probability that a test is overdue by hours on duty: that the hours of the part, normal about their value with their u,
 * less those at the test exceed the interval. 0 where the row sets none; null where either is not known.
 */
function overdue(test: TestEvidence, { withinHours }: TestRow, hours: Hours): number | null {
  if (withinHours === undefined) return 0;
  const at = test.dutyHours ?? null;
  return at === null || hours === null
    ? null
    : probabilityOutside(hours.value - at, hours.u, { max: withinHours });
}

/** Whether a test is recent enough by hours: guarded, or by the values alone, as the table decides. Not known is not enough. */
function inHours(test: TestEvidence, { row, table }: RowInTable<TestRow>, hours: Hours): boolean {
  const { rule, risk } = table.decision;
  const exceeded = overdue(test, row, rule === 'guarded' || hours === null ? hours : { ...hours, u: 0 });
  return exceeded !== null && exceeded <= risk;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Why the hours leave it open whether a test is recent enough: they are not known, or not well enough. */
function hoursGap(row: TestRow, hours: Hours, good: readonly TestEvidence[]): string {
  if (row.withinHours === undefined) return '';
  if (hours === null) return ' The hours on duty of the part are not known.';
  const chances = good
    .filter((test) => !contradictsHours(test, hours))
    .map((test) => overdue(test, row, hours))
    .filter((chance) => chance !== null);
  const least = Math.min(...chances);
  // A test that is overdue by the values needs no more words.
  if (least > 0.5) return '';
  return ` The last one is overdue with probability ${showProbability(least)}, for the part has ${showNumber(hours.value, 0)} h ± ${showNumber(2 * hours.u, 0)} h (k = 2).`;
}

function noRecord(row: TestRow, zones: readonly ZoneId[], gap: string): Missing {
  const within = [
    ...(row.withinMonths === undefined ? [] : [`${row.withinMonths} months`]),
    ...(row.withinHours === undefined ? [] : [`${row.withinHours} h on duty`]),
  ].join(' and ');
  const text = `${row.methods.join(' or ')} test of ${zones.join(', ')}: no record within ${within} (${sourceText(row.source)}).${gap}`;
  return { what: 'test', text: capital(text) };
}

function contradiction(test: TestEvidence, zones: readonly ZoneId[], hours: NonNullable<Hours>): Missing {
  const text =
    `${test.method} test of ${zones.join(', ')} on ${test.on}: recorded at ${showNumber(test.dutyHours ?? 0, 0)} h on duty, ` +
    `and the part has ${showNumber(hours.value, 0)} h ± ${showNumber(2 * hours.u, 0)} h (k = 2). One of the two is wrong, so the test does not count.`;
  return { what: 'test', text: capital(text) };
}

/** What one row asks of the tests of a part and does not find. */
function missingUnder(inTable: RowInTable<TestRow>, slot: Slot, part: PartEvidence, on: string): Missing[] {
  const { row } = inTable;
  const hours = part.dutyHours ?? null;
  const good = part.tests.filter(
    (test) => row.methods.includes(test.method) && test.result === 'no indication' && inMonths(test, row, on),
  );
  const counting = good.filter((test) => !contradictsHours(test, hours) && inHours(test, inTable, hours));
  const untested = slot.zones
    .map(({ zone }) => zone)
    .filter((zone) => row.zones === undefined || row.zones.includes(zone))
    .filter((zone) => !counting.some((test) => test.zones.includes(zone)));
  const told = good.flatMap((test): { missing: Missing; zones: readonly ZoneId[] }[] => {
    const zones = untested.filter((zone) => test.zones.includes(zone));
    return hours === null || zones.length === 0 || !contradictsHours(test, hours)
      ? []
      : [{ missing: contradiction(test, zones, hours), zones }];
  });
  const rest = untested.filter((zone) => !told.some(({ zones }) => zones.includes(zone)));
  if (rest.length === 0) return told.map(({ missing }) => missing);
  const ofRest = good.filter((test) => rest.some((zone) => test.zones.includes(zone)));
  return [...told.map(({ missing }) => missing), noRecord(row, rest, hoursGap(row, hours, ofRest))];
}

/**
 * Tests without a record as recent as the rows of the tables ask. Tests dated after the day of the verdict are left
 * out. A test recorded at more hours on duty than the part has contradicts itself: it never counts, and that is said.
 */
export function testsMissing(slot: Slot, part: PartEvidence, context: PartContext): Missing[] {
  return rowsFor(context.tables, 'test', context.part, context.on).flatMap((inTable) =>
    missingUnder(inTable, slot, part, context.on),
  );
}
