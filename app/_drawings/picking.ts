import { type Point, type Section, type ZoneId, zonesNear } from '../../lib/wheel/index.ts';
import type { PlacedMark } from './placing.ts';
import { MARK_PX } from './placing.ts';
import { type Sheet, toMm, viewAt } from './views.ts';

export interface ZoneKey {
  readonly slot: string;
  readonly zone: ZoneId;
}

export interface Near extends ZoneKey {
  readonly px: number;
}

/** How close another zone may be before a touch is asked about, CSS px: a gloved finger, or a mouse pointer. */
export const TOUCH_DOUBT_PX = 24;
export const MOUSE_DOUBT_PX = 3;
/** A touch further than this from every zone means none. */
const REACH_PX = 60;
const OFFERED_MAX = 3;

export function sameZone(one: ZoneKey | null, other: ZoneKey | null): boolean {
  return one !== null && other !== null && one.slot === other.slot && one.zone === other.zone;
}

/** Zones near a place on the sheet, nearest first; a zone's mark counts as the zone. */
export function zonesAt(section: Section, sheet: Sheet, marks: readonly PlacedMark[], place: Point): Near[] {
  const view = viewAt(sheet, place);
  return zonesNear(section, toMm(view, place), view)
    .map(({ slot, zone, distanceMm }) => {
      const byMark = marks
        .filter((mark) => mark.slot === slot && mark.zone === zone)
        .map(({ at }) => Math.max(0, Math.hypot(at[0] - place[0], at[1] - place[1]) - MARK_PX / 2));
      return { slot, zone, px: Math.min(distanceMm * view.scale, ...byMark) };
    })
    .sort((a, b) => a.px - b.px)
    .filter(({ px }) => px <= REACH_PX);
}

/** What a touch means: one zone when no other is within doubt, else the two or three nearest to choose from. */
export function meant(near: readonly Near[], doubtPx: number): readonly Near[] {
  const [first] = near;
  if (first === undefined) return [];
  const others = near.slice(1).filter(({ px }) => px < doubtPx || px - first.px < 1);
  return [first, ...others].slice(0, OFFERED_MAX);
}
