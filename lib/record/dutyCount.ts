import type { Fitment } from './fitment.ts';

/** What the meter of a machine showed on a day, h. */
export interface MachineReading {
  readonly on: string;
  readonly hours: number;
}

/** A stay of a part with the hours that the machine ran meanwhile. */
export interface CountedStay extends Fitment {
  /** Hours on duty in this stay, up to its end or the newest reading of the meter; null: cannot be counted. */
  readonly hours: number | null;
  /** The day up to which they are counted; null where they are not. */
  readonly upTo: string | null;
  /** Hours on the part at its end; null: not known. */
  readonly total: number | null;
  /** Why nothing could be counted; empty where it was. */
  readonly why: string;
}

/** A meter is read to the hour, and not at the very moment of the work: own choice. */
const GIVE_OR_TAKE_HOURS = 8;

/** Hours on duty of a part on a day as the meters count them, in the form of a note. */
export interface CountedHours {
  readonly hours: number;
  readonly giveOrTakeHours: number;
  readonly basis: 'meter of the machine';
  readonly on: string;
}

const dayOf = (at: string) => at.slice(0, 10);

/**
 * Stays of a part with the hours of each, h: what the meter of its machine showed at the end less what it showed at the
 * beginning. A stay that goes on is counted to the newest reading of that machine. Hours follow the part from stay to stay;
 * once a stay cannot be counted the total is not known until somebody says it at a later fitting.
 */
export function staysOnDuty(
  fitments: readonly Fitment[],
  meters: ReadonlyMap<string, readonly MachineReading[]>,
): CountedStay[] {
  let total: number | null = null;
  return fitments.map((stay, i) => {
    const before: number | null = stay.partHours ?? (i === 0 ? null : total);
    const counted = countedIn(stay, meters.get(stay.machine ?? '') ?? []);
    total = before === null || counted.hours === null ? null : before + counted.hours;
    return { ...stay, ...counted, total };
  });
}

function countedIn(
  stay: Fitment,
  readings: readonly MachineReading[],
): Pick<CountedStay, 'hours' | 'upTo' | 'why'> {
  const none = (why: string) => ({ hours: null, upTo: null, why });
  if (stay.machine === null) return none('nobody said which machine it was on');
  if (stay.machine === '') return { hours: 0, upTo: dayOf(stay.until ?? stay.from), why: '' };
  if (stay.machineHours === null) return none('the meter was not read when it was fitted');
  const newest = readings.filter(({ on }) => on >= dayOf(stay.from)).at(-1);
  const end =
    stay.until === null
      ? newest
      : stay.machineHoursAtEnd === null
        ? undefined
        : { on: dayOf(stay.until), hours: stay.machineHoursAtEnd };
  if (end === undefined)
    return none(
      stay.until === null
        ? 'the meter has not been read since'
        : 'the meter was not read when it was taken out',
    );
  if (end.hours < stay.machineHours)
    return none('the meter shows less than before: it was changed, or misread');
  return { hours: end.hours - stay.machineHours, upTo: end.on, why: '' };
}

/** What the meters say of a part's hours, as notes by day, oldest first; stays that cannot be counted give none. */
export function countedHours(stays: readonly CountedStay[]): CountedHours[] {
  return stays.flatMap(({ total, upTo }, i) =>
    total === null || upTo === null
      ? []
      : [
          {
            hours: total,
            giveOrTakeHours: GIVE_OR_TAKE_HOURS * (i + 1),
            basis: 'meter of the machine' as const,
            on: upTo,
          },
        ],
  );
}
