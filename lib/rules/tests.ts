import { rowsFor, type TestRow } from '../tolerances/index.ts';
import { showNumber } from '../units/index.ts';
import type { Slot, ZoneId } from '../wheel/index.ts';
import { monthsBefore } from './dates.ts';
import type { PartEvidence, TestEvidence } from './evidence.ts';
import type { Missing } from './finding.ts';
import type { PartContext } from './limits.ts';
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

function inHours(test: TestEvidence, row: TestRow, hours: Hours): boolean {
  if (row.withinHours === undefined) return true;
  const at = test.dutyHours ?? null;
  return at !== null && hours !== null && hours.value - at <= row.withinHours;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function noRecord(row: TestRow, zones: readonly ZoneId[], hours: Hours): Missing {
  const within = [
    ...(row.withinMonths === undefined ? [] : [`${row.withinMonths} months`]),
    ...(row.withinHours === undefined ? [] : [`${row.withinHours} h on duty`]),
  ].join(' and ');
  const gap =
    row.withinHours !== undefined && hours === null ? ' The hours on duty of the part are not known.' : '';
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
function missingUnder(row: TestRow, slot: Slot, part: PartEvidence, on: string): Missing[] {
  const hours = part.dutyHours ?? null;
  const good = part.tests.filter(
    (test) => row.methods.includes(test.method) && test.result === 'no indication' && inMonths(test, row, on),
  );
  const counting = good.filter((test) => !contradictsHours(test, hours) && inHours(test, row, hours));
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
  return [...told.map(({ missing }) => missing), ...(rest.length === 0 ? [] : [noRecord(row, rest, hours)])];
}

/**
 * Tests without a record as recent as the rows of the tables ask. Tests dated after the day of the verdict are left
 * out. A test recorded at more hours on duty than the part has contradicts itself: it never counts, and that is said.
 */
export function testsMissing(slot: Slot, part: PartEvidence, context: PartContext): Missing[] {
  return rowsFor(context.tables, 'test', context.part, context.on).flatMap(({ row }) =>
    missingUnder(row, slot, part, context.on),
  );
}
