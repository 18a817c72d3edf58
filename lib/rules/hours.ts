import type { ComponentState } from '../record/index.ts';
import type { PartEvidence } from './evidence.ts';

type Noted = ComponentState['hoursNoted'][number];

const DAY_MS = 86_400_000;
const HOURS_A_DAY = 24;

/** Whether a later note says surely fewer hours than an earlier one: one of them is wrong. */
export function hoursFall(notes: readonly Noted[]): boolean {
  return notes.some((later, index) =>
    notes
      .slice(0, index)
      .some((earlier) => later.hours + later.giveOrTakeHours < earlier.hours - earlier.giveOrTakeHours),
  );
}

/**
 * Hours on duty of a part at the moment `decidedAt` (ISO 8601 UTC), from notes in the order of their days; nothing when
 * there is none by then, or when they fall. Two rectangular laws (JCGM 100 4.3.7): over what the note may be off, and
 * over the hours since, of which there may have been none or 24 a day.
 */
export function dutyHoursAt(notes: readonly Noted[], decidedAt: string): Pick<PartEvidence, 'dutyHours'> {
  const day = decidedAt.slice(0, 10);
  const known = notes.filter((note) => note.on <= day);
  const last = known.at(-1);
  if (last === undefined || hoursFall(known)) return {};
  const days = (Date.parse(`${day}T00:00:00Z`) - Date.parse(`${last.on}T00:00:00Z`)) / DAY_MS;
  const since = HOURS_A_DAY * days;
  const u = Math.hypot(last.giveOrTakeHours / Math.sqrt(3), since / Math.sqrt(12));
  return { dutyHours: { value: last.hours + since / 2, u } };
}
