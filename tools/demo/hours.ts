import { kinds } from '../../lib/record/index.ts';
import type { Agenda } from './agenda.ts';
import { constructionOfWheel } from './fleet.ts';
import type { DemoLog } from './log.ts';
import type { Parts } from './parts.ts';
import { plannedInspections } from './rounds.ts';

/** The machine's meter is read before the round begins, and the part's hours are worked out from it. */
const BEFORE_THE_ROUND = '05:50';
/** A part that was there before the books began is known less well. Invented. */
const GIVE_OR_TAKE_HOURS = 25;

/** Plans notes of the hours on duty of every part of a wheel on the days of its complete rounds. */
export function planHours(agenda: Agenda, log: DemoLog, parts: Parts): void {
  for (const { wheel, how, days, ends } of plannedInspections) {
    if (how !== 'complete' || ends === 'open') continue;
    agenda.plan(days, BEFORE_THE_ROUND, () => {
      for (const { slot, inspected } of constructionOfWheel(wheel).slots) {
        const part = parts.inSlot(wheel, slot);
        if (!inspected || part === undefined) continue;
        log.write(
          kinds.dutyHoursNoted,
          part.id,
          {
            hours: Math.round(parts.hours(part)),
            giveOrTakeHours: GIVE_OR_TAKE_HOURS,
            basis: 'meter of the machine',
            on: log.now.slice(0, 10),
          },
          'lead',
        );
      }
    });
  }
}
