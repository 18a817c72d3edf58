import { type AgeRow, type RowInTable, rowsFor } from '../tolerances/index.ts';
import { showNumber, showProbability } from '../units/index.ts';
import type { PartEvidence } from './evidence.ts';
import { type AgeFinding, type Class, cite, type Missing, worse } from './finding.ts';
import type { Judged, PartContext } from './limits.ts';
import { monthsBefore } from './missing.ts';
import { probabilityOutside } from './probability.ts';
import { sourceText } from './words.ts';

const DAY_MS = 86_400_000;
const DAYS_A_YEAR = 365.25;

/** Days since 1970-01-01 of an ISO date. */
function dayOf(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / DAY_MS;
}

/**
 * Probability that a part is older than `years` (to whole months) on the day `on`, when it was made on a day between `from` and `to`,
 * each as likely as the other (rectangular, JCGM 100 4.3.7). ISO dates, both ends included.
 */
export function probabilityOlder(
  made: { readonly from: string; readonly to: string },
  years: number,
  on: string,
): number {
  const limit = dayOf(monthsBefore(on, Math.round(12 * years)));
  const [first, last] = [dayOf(made.from), dayOf(made.to)];
  const before = limit - first;
  return Math.min(1, Math.max(0, before / (last - first + 1)));
}

function madeText(made: PartEvidence['made'], on: string): string {
  if (made === undefined || made === null) return 'nobody knows when it was made';
  const years = showNumber((dayOf(on) - dayOf(made.from)) / DAYS_A_YEAR, 1);
  return made.from === made.to
    ? `made on ${made.from}, ${years} years old`
    : `made between ${made.from} and ${made.to}, at most ${years} years old`;
}

function hoursText(hours: PartEvidence['dutyHours']): string {
  return hours === undefined || hours === null
    ? 'its hours on duty are not known'
    : `${showNumber(hours.value, 0)} h ± ${showNumber(2 * hours.u, 0)} h on duty (k = 2)`;
}

function judgeRow(part: PartEvidence, inTable: RowInTable<AgeRow>, context: PartContext): Judged<AgeFinding> {
  const { row, table } = inTable;
  const made = part.made ?? null;
  const hours = part.dutyHours ?? null;
  const olderThan =
    row.upToYears === undefined || made === null ? null : probabilityOlder(made, row.upToYears, context.on);
  const longerThan =
    row.upToHours === undefined || hours === null
      ? null
      : probabilityOutside(hours.value, hours.u, { max: row.upToHours });
  const unknown = [
    ...(row.upToYears !== undefined && made === null ? ['when it was made'] : []),
    ...(row.upToHours !== undefined && hours === null ? ['its hours on duty'] : []),
  ];
  const beyond = Math.max(olderThan ?? 0, longerThan ?? 0);
  const { rule, risk } = table.decision;
  let plain: Class = beyond > (rule === 'guarded' ? risk : 0.5) ? row.beyond : 'keep';
  if (unknown.length > 0 && row.unknown !== 'hold') plain = worse(plain, row.unknown);
  const said = [
    ...(row.upToYears === undefined
      ? []
      : [`${madeText(made, context.on)}; the limit is ${row.upToYears} years`]),
    ...(row.upToHours === undefined ? [] : [`${hoursText(hours)}; the limit is ${row.upToHours} h`]),
  ];
  const noRework = plain === 'repair' && row.repairNeeds === 'rework' ? context.noRework : null;
  const chance =
    olderThan === null && longerThan === null ? '' : ` Beyond with probability ${showProbability(beyond)}.`;
  const banned = noRework === null ? '' : ` Rework is not on offer (${sourceText(noRework.source)}).`;
  const finding: AgeFinding = {
    about: 'age',
    made,
    dutyHours: hours,
    unknown,
    beyond: olderThan === null && longerThan === null ? null : beyond,
    class: noRework === null ? plain : 'scrap',
    rule: cite(inTable),
    noRework,
    sentence: `Age: ${said.join('; ')}. ${row.says} (${sourceText(row.source)}).${chance}${banned}`,
  };
  const held = unknown.length > 0 && row.unknown === 'hold';
  const missing: Missing[] = held
    ? [
        {
          what: 'age',
          text: `Nobody knows ${unknown.join(' or ')}, and a limit depends on it (${sourceText(row.source)}).`,
        },
      ]
    : [];
  // With nothing known and nothing decided there is no finding, only the gap.
  return { findings: held && finding.beyond === null ? [] : [finding], missing };
}

/** Judges age and hours on duty under every rule that speaks of the part. An unknown age never passes. */
export function judgeAge(part: PartEvidence, context: PartContext): Judged<AgeFinding> {
  const all = rowsFor(context.tables, 'age', context.part, context.on).map((inTable) =>
    judgeRow(part, inTable, context),
  );
  return { findings: all.flatMap((one) => one.findings), missing: all.flatMap((one) => one.missing) };
}
