import type { ComponentState, TestRecord } from '../record/index.ts';
import { type PartFacts, rowsFor, type Table, type TestRow } from '../tolerances/index.ts';
import type { ZoneId } from '../wheel/index.ts';
import { dayAtHours, hoursOn, hoursPerDay } from './clock.ts';

/** How often a site wants its wheels inspected, whichever comes first. */
export interface InspectionPolicy {
  readonly everyMonths: number | null;
  readonly everyHours: number | null;
}

/** A reason to look again, and by which day (ISO date); null: it asks for something that no day can be given for. */
export interface LookAgain {
  readonly what: 'trend' | 'table' | 'policy';
  readonly by: string | null;
  readonly sentence: string;
}

/** What the next inspection of a component is worked out from. */
export interface NextLookFacts {
  readonly component: Pick<ComponentState, 'hoursNoted' | 'tests'>;
  readonly part: PartFacts;
  readonly tables: readonly Table[];
  readonly policy: InspectionPolicy | null;
  /** Day of the last inspection that looked at it, ISO date. */
  readonly lastInspected: string | null;
  /** By when its trends ask for a look, soonest first or not, with the words for it. */
  readonly trends: readonly { readonly by: string; readonly words: string }[];
  /** Today, ISO date. */
  readonly on: string;
}

/** The same day of the month `months` later; a day that the month does not have becomes the first of the next one. */
export function monthsAfter(on: string, months: number): string {
  const [year = 0, month = 1, day = 1] = on.split('-').map(Number);
  return new Date(Date.UTC(year, month - 1 + months, day)).toISOString().slice(0, 10);
}

/** The day on which a part has worked so many hours more than at a moment; null where its hours are not known. */
function afterHours({ hoursNoted }: NextLookFacts['component'], since: number, more: number): string | null {
  const last = hoursNoted.at(-1);
  const perDay = hoursPerDay(hoursNoted);
  if (last === undefined || perDay === null) return null;
  return dayAtHours(since + more, { hours: last.hours, u: 0, on: last.on }, perDay);
}

function earliest(days: readonly (string | null)[]): string | null {
  const known = days.filter((day) => day !== null).sort();
  return known[0] ?? null;
}

/** The newest clean test by the row's methods; of several zones that the row names, that of the zone tested longest ago. */
function lastTest(tests: readonly TestRecord[], row: TestRow, on: string): TestRecord | undefined {
  const newest = (zone: ZoneId | null) =>
    tests
      .filter((test) => row.methods.includes(test.method) && test.result === 'no indication' && test.on <= on)
      .filter((test) => zone === null || test.zones.includes(zone))
      .sort((a, b) => (a.on < b.on ? 1 : -1))[0];
  const each = (row.zones ?? [null]).map(newest);
  if (each.includes(undefined)) return undefined;
  return each.sort((a, b) => ((a?.on ?? '') < (b?.on ?? '') ? -1 : 1))[0];
}

function byTables({ component, part, tables, on }: NextLookFacts): LookAgain[] {
  return rowsFor(tables, 'test', part, on).map(({ table, row }): LookAgain => {
    const method = row.methods.join(' or ');
    const within = [
      ...(row.withinMonths === undefined ? [] : [`${row.withinMonths} months`]),
      ...(row.withinHours === undefined ? [] : [`${row.withinHours} h on duty`]),
    ].join(' and ');
    const asked = `“${table.title}” asks for a ${method} test within ${within}`;
    const last = lastTest(component.tests, row, on);
    if (last === undefined) return { what: 'table', by: on, sentence: `${asked}, and none is on record.` };
    const { withinMonths, withinHours } = row;
    const at: number | null = last.dutyHours ?? hoursOn(component.hoursNoted, last.on)?.hours ?? null;
    const by = earliest([
      withinMonths === undefined ? null : monthsAfter(last.on, withinMonths),
      withinHours === undefined || at === null ? null : afterHours(component, at, withinHours),
    ]);
    return { what: 'table', by, sentence: `${asked}; the last was made on ${last.on}.` };
  });
}

function byPolicy({ component, policy, lastInspected, on }: NextLookFacts): LookAgain[] {
  if (policy === null || (policy.everyMonths === null && policy.everyHours === null)) return [];
  const { everyMonths, everyHours } = policy;
  const every = [
    ...(everyMonths === null ? [] : [`${everyMonths} months`]),
    ...(everyHours === null ? [] : [`${everyHours} h on duty`]),
  ].join(' or ');
  const asked = `The site inspects every ${every}`;
  if (lastInspected === null)
    return [{ what: 'policy', by: on, sentence: `${asked}, and no inspection is on record.` }];
  const at = hoursOn(component.hoursNoted, lastInspected);
  const by = earliest([
    everyMonths === null ? null : monthsAfter(lastInspected, everyMonths),
    everyHours === null || at === null ? null : afterHours(component, at.hours, everyHours),
  ]);
  const unknown = everyHours !== null && at === null ? ' Its hours on duty are not known.' : '';
  return [
    { what: 'policy', by, sentence: `${asked}; the last inspection was on ${lastInspected}.${unknown}` },
  ];
}

/**
 * Reasons to look at a component again, the soonest first: where the band of a trend reaches its limit, the test
 * intervals of the tolerance tables, and the site's own interval. A reason without a day comes last. Empty: nothing says when.
 */
export function nextLooks(facts: NextLookFacts): readonly LookAgain[] {
  const trends = facts.trends.map(({ by, words }): LookAgain => ({ what: 'trend', by, sentence: words }));
  return [...trends, ...byTables(facts), ...byPolicy(facts)].sort((a, b) =>
    (a.by ?? '~') < (b.by ?? '~') ? -1 : (a.by ?? '~') > (b.by ?? '~') ? 1 : 0,
  );
}
