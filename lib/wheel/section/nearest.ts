import type { ZoneId } from '../ids.ts';
import { clipLine, distanceToLine, isInside, type Point } from './plane.ts';
import type { Section } from './section.ts';

/** A zone and how far a point is from its nearest line, mm. */
export interface ZoneNear {
  readonly slot: string;
  readonly zone: ZoneId;
  readonly distanceMm: number;
}

/** The stretch of x that a drawing shows. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/**
 * All zones with a line in the stretch, nearest first. Where two parts touch and the distances are equal within
 * 0.01 mm, the zone of the part that the point lies in comes first.
 */
export function zonesNear(section: Section, point: Point, shown: Stretch): ZoneNear[] {
  return section.parts
    .flatMap((part) => {
      const within = part.outlines.some((outline) => isInside(point, outline));
      return part.zones.flatMap(({ zone, lines }) => {
        const clipped = lines.flatMap((line) => clipLine(line, shown.from, shown.to));
        if (clipped.length === 0) return [];
        const distanceMm = Math.min(...clipped.map((line) => distanceToLine(point, line)));
        return [{ slot: part.slot, zone, distanceMm, within }];
      });
    })
    .sort((a, b) =>
      Math.abs(a.distanceMm - b.distanceMm) < 0.01
        ? Number(b.within) - Number(a.within)
        : a.distanceMm - b.distanceMm,
    )
    .map(({ slot, zone, distanceMm }) => ({ slot, zone, distanceMm }));
}
