import type { ComponentState } from '../record/index.ts';
import { DAYS_A_YEAR, dayOf, dutyHoursAt, hoursFall } from '../rules/index.ts';

type Notes = ComponentState['hoursNoted'];

/** Hours on duty and their standard uncertainty. */
export interface DutyHours {
  readonly hours: number;
  readonly u: number;
}

const HOURS_A_DAY = 24;
/** Hours between two notes are taken as worked evenly; they are off by this share of the way to the nearer note. Own choice. */
const UNEVEN_BETWEEN = 0.1;
/** Beyond the notes the recent rate is taken to go on, off by this share. Own choice. */
const UNEVEN_BEYOND = 0.3;
/** A rate needs notes this many days apart, and looks back this far. Own choice. */
const RATE_OVER_DAYS = { least: 60, most: DAYS_A_YEAR } as const;

/**
 * Hours a day that a part has worked lately: from the newest note and the last one at least `least` days before it, no
 * more than a year back where there is one. Null without two such notes, and where notes fall.
 */
export function hoursPerDay(notes: Notes): number | null {
  const last = notes.at(-1);
  if (last === undefined || hoursFall(notes)) return null;
  const before = notes.filter(({ on }) => dayOf(last.on) - dayOf(on) >= RATE_OVER_DAYS.least);
  const recent = before.find(({ on }) => dayOf(last.on) - dayOf(on) <= RATE_OVER_DAYS.most) ?? before.at(-1);
  if (recent === undefined) return null;
  return Math.max(0, last.hours - recent.hours) / (dayOf(last.on) - dayOf(recent.on));
}

const noteU = ({ giveOrTakeHours }: Notes[number]) => giveOrTakeHours / Math.sqrt(3);

/**
 * Hours on duty of a part on a day (ISO date): between two notes worked evenly, beyond them at the rate of the notes, each
 * with an uncertainty that grows with the time to the nearest note. After a single note as the engine has it: none to 24
 * hours a day. Null before the first of a single note, without notes, and where notes contradict each other.
 */
export function hoursOn(notes: Notes, day: string): DutyHours | null {
  if (notes.length === 0 || hoursFall(notes)) return null;
  const next = notes.findIndex(({ on }) => on >= day);
  const [before, after] = [
    next === -1 ? notes.at(-1) : notes[next - 1],
    next === -1 ? undefined : notes[next],
  ];
  if (after?.on === day) return { hours: after.hours, u: noteU(after) };
  if (before !== undefined && after !== undefined) return between(before, after, day);
  const nearest = before ?? after;
  const perDay = hoursPerDay(notes);
  if (nearest === undefined) return null;
  if (perDay === null) {
    const { dutyHours } = dutyHoursAt(notes, day);
    return dutyHours == null ? null : { hours: dutyHours.value, u: dutyHours.u };
  }
  const away = perDay * (dayOf(day) - dayOf(nearest.on));
  return {
    hours: Math.max(0, nearest.hours + away),
    u: Math.hypot(noteU(nearest), UNEVEN_BEYOND * Math.abs(away)),
  };
}

function between(before: Notes[number], after: Notes[number], day: string): DutyHours {
  const [from, to, on] = [dayOf(before.on), dayOf(after.on), dayOf(day)];
  const share = (on - from) / (to - from);
  const worked = after.hours - before.hours;
  const near = Math.min(share, 1 - share) * worked;
  return {
    hours: before.hours + share * worked,
    u: Math.hypot((1 - share) * noteU(before), share * noteU(after), UNEVEN_BETWEEN * near),
  };
}

/** The day (ISO date) on which a part reaches `hours`, at its recent rate from `from`; null where it does not work. */
export function dayAtHours(
  hours: number,
  from: DutyHours & { readonly on: string },
  perDay: number,
): string | null {
  if (!(perDay > 0)) return null;
  return isoDay(dayOf(from.on) + Math.max(0, hours - from.hours) / perDay);
}

/** The ISO date of a day counted from 1970-01-01, rounded down; days after the year 9999 are its last one. */
export function isoDay(days: number): string {
  const LAST = 2_932_896;
  return new Date(Math.min(Math.floor(days), LAST) * HOURS_A_DAY * 3_600_000).toISOString().slice(0, 10);
}
