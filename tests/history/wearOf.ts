import type { InspectionMeasured, LimitEnd, WearMeasured } from '../../lib/history/index.ts';
import type { ComponentState } from '../../lib/record/index.ts';

/** A reading of the flange wear of a part: how many days after the first, and mm. */
export interface Read {
  readonly day: number;
  readonly mm: number;
  readonly u?: number;
}

export const FIRST_DAY = Date.UTC(2024, 0, 1);
export const dayAt = (day: number) => new Date(FIRST_DAY + day * 86_400_000).toISOString().slice(0, 10);

/** One inspection for each reading, of one part. */
export function inspectionsOf(
  component: string,
  reads: readonly Read[],
  characteristic: WearMeasured['characteristic'] = 'flange wear',
): InspectionMeasured[] {
  return reads.map(({ day, mm, u }) => ({
    inspection: `${component} ${day}`,
    wheel: 'wheel',
    at: `${dayAt(day)}T08:00:00.000Z`,
    settled: true,
    measured: [
      {
        component,
        slot: 'gutter-side flange',
        characteristic,
        zone: characteristic === 'gutter depth' ? 'gutter groove' : 'flange contact face',
        state: null,
        valueMm: mm,
        uMm: u ?? 0.05,
        clock: 3,
        clocks: [3, 9],
        readings: 2,
      },
    ],
  }));
}

/** Notes of a part that works `perDay` hours a day from the first day to `days` after it. */
export function notesOf(days: number, perDay = 10): ComponentState['hoursNoted'] {
  return [0, days].map((day) => ({
    hours: 1000 + perDay * day,
    giveOrTakeHours: 5,
    basis: 'meter of the machine' as const,
    on: dayAt(day),
  }));
}

export const limitAt = (value: number, worse: 1 | -1 = 1): LimitEnd => ({
  worse,
  value,
  u: 0,
  repair: null,
  rule: {
    table: 'invented',
    edition: '1',
    row: 'r',
    source: { title: 'Invented', section: '', page: '', edition: '', kind: 'demonstration' },
  },
});
