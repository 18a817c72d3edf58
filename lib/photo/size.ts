import { angleAt, turnFrom } from './angle.ts';
import { type Lens, rayThrough } from './camera.ts';
import type { Point } from './homography.ts';
import { CHORD_MM, type Meeting, type Surface, wayAlong } from './surface.ts';
import { distance } from './vector.ts';

/**
 * What is taken from lines on a photo: `length` along them on the surface, with chords of at most 5 mm; `chord`, the
 * straight distances between their points through the air; `area` inside closed lines on the surface; `angle` at the
 * second of three points between the ways on the surface to the other two.
 */
export type Taking = 'length' | 'chord' | 'area' | 'angle';

/** Lines of picked points, px of the upright picture; closed ones do not repeat their first point. */
export type Lines = readonly (readonly Point[])[];

/** Meetings of a line with a surface, with points put between the picked ones until no chord is longer than 5 mm. */
function laidOn(
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
 * Size of lines on a surface: mm for lengths and chords, mm² for areas, degrees for angles, summed over the lines. Areas
 * and angles keep their sign, so that parts of an outline and turns either way can be compared. Null when a line of sight
 * misses the surface, and for angles without an arm.
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
    if (taking === 'chord' || taking === 'angle') {
      const met = metBy(surface, lens, line);
      const one = met === null ? null : taking === 'chord' ? wayAlong(met) : angleOf(met);
      if (one === null) return null;
      sum += one;
      continue;
    }
    const laid = laidOn(surface, lens, line, taking === 'area', chordMm);
    if (laid === null) return null;
    sum += taking === 'area' ? surface.areaOf(laid) : wayAlong(laid);
  }
  return sum;
}

function metBy(surface: Surface, lens: Lens, line: readonly Point[]): Meeting[] | null {
  const met = line.map((point) => surface.meet(rayThrough(lens, point))).filter((one) => one !== null);
  return met.length === line.length ? met : null;
}

function angleOf([first, vertex, second]: readonly Meeting[]): number | null {
  return first && vertex && second ? angleAt(first, vertex, second) : null;
}

/** A size of the same lines as `from`, in its unit, so that the two can be subtracted: an angle goes on past 180°. */
export function continued(taking: Taking, from: number, size: number): number {
  return taking === 'angle' ? from + turnFrom(from, size) : size;
}
