import type { Fitment } from './fitment.ts';
import type { InspectionState } from './inspection.ts';
import { type ComponentState, momentOf, type RegisterState, type WheelState } from './register.ts';

/** Something that happened to a wheel, for its book. */
export interface BookMoment {
  /** ISO 8601 UTC. */
  readonly at: string;
  readonly what:
    | 'placed'
    | 'fitted'
    | 'taken out'
    | 'tested'
    | 'repaired'
    | 'inspection begun'
    | 'submitted'
    | 'reviewed';
  /** One for each thing of this sort on that day. */
  readonly words: readonly string[];
  /** The inspection that it belongs to; null: to none. */
  readonly inspection: string | null;
}

/** Everything that happened to a wheel, oldest first: its places, its parts in and out, their tests and repairs while they were in it, inspections and reviews. */
export function bookMoments(
  wheel: WheelState,
  inspections: readonly InspectionState[],
  register: Pick<RegisterState, 'components'>,
): BookMoment[] {
  const all = [
    ...wheel.placings.map(
      ({ from, machine, position }): BookMoment => ({
        at: from,
        what: 'placed',
        words: [machine === '' ? 'on no machine' : `on ${machine}, ${position}`],
        inspection: null,
      }),
    ),
    ...[...register.components.values()].flatMap((component) =>
      component.mergedInto === null && component.described ? partMoments(wheel.id, component) : [],
    ),
    ...inspections.flatMap(inspectionMoments),
  ];
  return grouped(all.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0)));
}

/** Things of one sort on one day are one moment, that of the last of them: a wheel fitted with five parts is one step. */
function grouped(moments: readonly BookMoment[]): BookMoment[] {
  const groups: BookMoment[] = [];
  for (const moment of moments) {
    const last = groups.at(-1);
    const same =
      last?.what === moment.what &&
      last.inspection === moment.inspection &&
      last.at.slice(0, 10) === moment.at.slice(0, 10);
    if (same) groups[groups.length - 1] = { ...moment, words: [...last.words, ...moment.words] };
    else groups.push(moment);
  }
  return groups;
}

function partMoments(wheel: string, component: ComponentState): BookMoment[] {
  const stays = component.fitments.filter((stay) => stay.wheel === wheel);
  const named = component.serial || component.stamp || 'no stamp read';
  const of = (at: string, what: BookMoment['what'], words: string): BookMoment => ({
    at,
    what,
    words: [words],
    inspection: null,
  });
  const during = (done: { on: string; at: string }, what: BookMoment['what'], words: string) => {
    const stay = stays.find((one) => wasIn(one, done.on));
    return stay === undefined ? [] : [of(momentOf(done.on, done.at), what, `${stay.slot}: ${words}`)];
  };
  return [
    ...stays.map(({ from, slot }) => of(from, 'fitted', `${slot}: ${named}`)),
    ...stays.flatMap(({ until, slot }) =>
      until === null ? [] : [of(until, 'taken out', `${slot}: ${named}`)],
    ),
    ...component.tests.flatMap((test) => during(test, 'tested', `${test.method}, ${test.result}`)),
    ...component.repairs.flatMap((repair) => during(repair, 'repaired', `${repair.what}, by ${repair.by}`)),
  ];
}

function wasIn({ from, until }: Fitment, day: string): boolean {
  return from.slice(0, 10) <= day && (until === null || day <= until.slice(0, 10));
}

function inspectionMoments({
  id,
  opened,
  reason,
  submissions,
  conclusion,
  earlierConclusions,
}: InspectionState) {
  const of = (at: string, what: BookMoment['what'], words: string): BookMoment => ({
    at,
    what,
    words: [words],
    inspection: id,
  });
  return [
    ...(opened === null ? [] : [of(opened.at, 'inspection begun', reason)]),
    ...submissions.map(({ at }) => of(at, 'submitted', reason)),
    ...[...earlierConclusions, ...(conclusion === null ? [] : [conclusion])].map(({ at, value }) =>
      of(at, 'reviewed', value.outcome),
    ),
  ];
}

/** The newest inspection that had been begun at a moment; null: none had. */
export function inspectionAt(inspections: readonly InspectionState[], at: string): InspectionState | null {
  return inspections.reduce<InspectionState | null>((newest, one) => {
    const begun = one.opened?.at;
    if (begun === undefined || begun > at) return newest;
    return newest === null || begun > (newest.opened?.at ?? '') ? one : newest;
  }, null);
}
