import { type Lens, rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { CHORD_MM, type Meeting, type Surface, wayAlong } from './surface.ts';
import { distance } from './vector.ts';

/**
 * What is taken from lines on a photo: `length` along them on the surface, with chords of at most 5 mm; `chord`, the
 * straight distances between their points through the air; `area` inside closed lines on the surface.
 */
export type Taking = 'length' | 'chord' | 'area';

/** Lines of picked points, px of the upright picture; closed ones do not repeat their first point. */
export type Lines = readonly (readonly Point[])[];

/** Meetings of a line with a surface, with points put between the picked ones until no chord is longer than 5 mm. */
export function laidOn(
  surface: Surface,
  lens: Lens,
  line: readonly Point[],
  closed: boolean,
  chordMm = CHORD_MM,
): Meeting[] | null {
  const meetAt = (point: Point) => surface.meet(rayThrough(lens, point));
  const laid: Meeting[] = [];
  let before: Meeting | null = null;
  let from: Point | null = null;
  for (const point of closed && line[0] !== undefined ? [...line, line[0]] : line) {
    const here = meetAt(point);
    if (here === null) return null;
    if (before !== null && from !== null) {
      const pieces = Math.ceil(distance(before.point, here.point) / chordMm);
      for (let k = 1; k < pieces; k += 1) {
        const share = k / pieces;
        const between = meetAt([
          from[0] + (point[0] - from[0]) * share,
          from[1] + (point[1] - from[1]) * share,
        ]);
        if (between === null) return null;
        laid.push(between);
      }
    }
    laid.push(here);
    before = here;
    from = point;
  }
  if (closed) laid.pop();
  return laid;
}

/**
 * Size of lines on a surface: mm for lengths and chords, mm² for areas, summed over the lines. Areas keep their sign,
 * so that parts of an outline can be compared. Null when a line of sight misses the surface.
 */
export function sizeOn(
  surface: Surface,
  lens: Lens,
  lines: Lines,
  taking: Taking,
  chordMm = CHORD_MM,
): number | null {
  let sum = 0;
  for (const line of lines) {
    if (taking === 'chord') {
      const met = line.map((point) => surface.meet(rayThrough(lens, point)));
      if (met.some((one) => one === null)) return null;
      sum += wayAlong(met as Meeting[]);
      continue;
    }
    const laid = laidOn(surface, lens, line, taking === 'area', chordMm);
    if (laid === null) return null;
    sum += taking === 'area' ? surface.areaOf(laid) : wayAlong(laid);
  }
  return sum;
}
