import { type AgeRow, type RowInTable, rowsFor } from '../tolerances/index.ts';
import { dayOf, monthsBefore } from './dates.ts';
import type { PartEvidence } from './evidence.ts';
import { type AgeFinding, type Class, cite, type Missing, worse } from './finding.ts';
import type { Judged, PartContext } from './limits.ts';
import { probabilityOutside } from './probability.ts';
import { said } from './sentences.ts';
import { sourceText } from './words.ts';

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

/** When a part was made, as far as the day `on` (ISO date) allows: cut at that day; null where all of it is ahead. */
function madeUpTo(made: PartEvidence['made'], on: string): AgeFinding['made'] {
  if (made === undefined || made === null || made.from > on) return null;
  return made.to > on ? { from: made.from, to: on } : made;
}

function judgeRow(part: PartEvidence, inTable: RowInTable<AgeRow>, context: PartContext): Judged<AgeFinding> {
  const { row, table } = inTable;
  const made = madeUpTo(part.made, context.on);
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
  // Whichever comes first: the union of two chances that are taken as independent, 1 − (1 − p)(1 − q).
  const [p, q] = [olderThan ?? 0, longerThan ?? 0];
  const beyond = p + q * (1 - p);
  const { rule, risk } = table.decision;
  let plain: Class = beyond > (rule === 'guarded' ? risk : 0.5) ? row.beyond : 'keep';
  if (unknown.length > 0 && row.unknown !== 'hold') plain = worse(plain, row.unknown);
  const noRework = plain === 'repair' && row.repairNeeds === 'rework' ? context.noRework : null;
  const finding = said<AgeFinding>({
    about: 'age',
    made,
    dutyHours: hours,
    unknown,
    beyond: olderThan === null && longerThan === null ? null : beyond,
    class: noRework === null ? plain : 'scrap',
    rule: cite(inTable),
    noRework,
    basis: {
      on: context.on,
      upToYears: row.upToYears ?? null,
      upToHours: row.upToHours ?? null,
      says: row.says,
    },
  });
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

function madeAhead({ made }: PartEvidence, on: string): Missing[] {
  if (made === undefined || made === null || made.from <= on) return [];
  const text = `It is said to be made ${made.from === made.to ? 'on' : 'from'} ${made.from}, after the day of the verdict, ${on}. Correct the date: until then its age counts as not known.`;
  return [{ what: 'age', text }];
}

/**
 * Judges age and hours on duty under every rule that speaks of the part. An unknown age never passes, nor one that
 * contradicts itself: a date of making after the day of the verdict.
 */
export function judgeAge(part: PartEvidence, context: PartContext): Judged<AgeFinding> {
  const rows = rowsFor(context.tables, 'age', context.part, context.on);
  const all = rows.map((inTable) => judgeRow(part, inTable, context));
  const asked = rows.some(({ row }) => row.upToYears !== undefined);
  return {
    findings: all.flatMap((one) => one.findings),
    missing: [...(asked ? madeAhead(part, context.on) : []), ...all.flatMap((one) => one.missing)],
  };
}
