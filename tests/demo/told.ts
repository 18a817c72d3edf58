import { createHash } from 'node:crypto';
import { must } from '../../lib/base/index.ts';
import { type Entry, foldInspection, foldRegister, type InspectionState } from '../../lib/record/index.ts';
import { placeKey, placesToCut } from '../../tools/demo/details.ts';
import { type DemoPhotos, tellDemo } from '../../tools/demo/entries.ts';
import type { Setting } from '../../tools/demo/log.ts';
import { demoPictures } from '../../tools/demo/pictures.ts';
import { inspectionKey, plannedInspections } from '../../tools/demo/rounds.ts';
import { thing } from '../support/entries.ts';

export const setting: Setting = {
  site: thing(1),
  people: {
    administrator: 'person-0',
    lead: 'person-1',
    'inspector 1': 'person-2',
    'inspector 2': 'person-3',
    'inspector 3': 'person-6',
    'reviewer 1': 'person-4',
    'reviewer 2': 'person-5',
  },
  today: '2026-11-25',
};

const pictures = demoPictures();

/** The details are not cut here: what is told does not depend on what they show. */
export const photos: DemoPhotos = {
  pictures,
  details: new Map(
    placesToCut(pictures).map((place, index) => {
      const content = Buffer.from(placeKey(place));
      const sha256 = createHash('sha256').update(content).digest('hex');
      const file = `detail-${index}.jpg`;
      return [placeKey(place), { file, sha256, bytes: content.length, widthPx: 800, heightPx: 600, content }];
    }),
  ),
};

export const { entries, dials } = tellDemo(setting, photos);
export const register = foldRegister(entries.filter((entry) => entry.subject.type !== 'inspection'));

/** An inspection as it was told. */
export interface Told {
  readonly key: string;
  readonly own: readonly Entry[];
  readonly state: InspectionState;
}

/** All inspections in the order they were opened; `key` is their wheel and round. */
export const inspections: readonly Told[] = (() => {
  const own = new Map<string, Entry[]>();
  for (const entry of entries) {
    if (entry.subject.type !== 'inspection') continue;
    own.set(entry.subject.id, [...(own.get(entry.subject.id) ?? []), entry]);
  }
  const order = [...plannedInspections].sort((a, b) =>
    a.days === b.days ? (a.clock < b.clock ? -1 : 1) : b.days - a.days,
  );
  return [...own.values()].map((list, index) => ({
    key: inspectionKey(must(order[index], 'a planned inspection')),
    own: list,
    state: foldInspection(list),
  }));
})();

export function told(key: string): Told {
  return must(
    inspections.find((one) => one.key === key),
    `inspection ${key}`,
  );
}

/** Days from a moment to the day that counts as today. */
export function daysAgo(at: string): number {
  return Math.ceil((Date.parse(`${setting.today}T00:00:00.000Z`) - Date.parse(at)) / (24 * 3600 * 1000));
}

/** The wheel of an inspection as the fleet calls it. */
export function wheelKeyOf(state: InspectionState): string {
  const wheel = must(register.wheels.get(state.wheel ?? ''), 'wheel');
  return `${wheel.machine.slice(-5)} ${wheel.position}`;
}
