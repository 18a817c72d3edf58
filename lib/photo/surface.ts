import type { ZoneId } from '../wheel/index.ts';
import { along, cross, distance, dot, norm, scaled, subtract, unit, type Vec3 } from './vector.ts';

/** Where a line of sight meets a surface. */
export interface Meeting {
  /** In camera axes, mm. */
  readonly point: Vec3;
  /** Out of the metal. */
  readonly normal: Vec3;
  /** Coordinates on the surface: a pair that grows steadily along it; see `Surface.areaOf`. */
  readonly chart: readonly [number, number];
  readonly zone: ZoneId | null;
  /** How far it lies past the end of a run of pieces, where the surface was only continued, mm; 0 on the surface. */
  readonly strayMm: number;
}

/** A surface that marks lie on. Lines of sight start in the origin of the camera’s axes. */
export interface Surface {
  /** First meeting of a line of sight with the surface as seen from the camera; null when it passes by. */
  meet(sight: Vec3): Meeting | null;
  /** Signed area on the surface inside a closed line of meetings, mm²; the sign tells which way round it runs. */
  areaOf(outline: readonly Meeting[]): number;
  /** First chart coordinates at which the surface ends or turns sharply: the edges of a zone; none of a plane. */
  readonly edges: readonly number[];
  /** The point with these chart coordinates, mm in camera axes; null past the end of the surface. */
  pointAt(chart: readonly [number, number]): Vec3 | null;
  /** What one unit of each chart coordinate is at a meeting, mm. */
  unitsAt(meeting: Meeting): readonly [number, number];
}

/** A plane through a point. */
export function plane(through: Vec3, normal: Vec3, zone: ZoneId | null = null): Surface {
  const x = unit(cross(normal, Math.abs(normal[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]));
  const y = cross(normal, x);
  return {
    meet(sight) {
      const towards = dot(sight, normal);
      // A line of sight within a tenth of a degree of the plane says nothing of where it meets it.
      if (Math.abs(towards) < 0.0017) return null;
      const far = dot(through, normal) / towards;
      if (!(far > 0)) return null;
      const point = scaled(sight, far);
      const from = subtract(point, through);
      return { point, normal, chart: [dot(from, x), dot(from, y)], zone, strayMm: 0 };
    },
    areaOf: (outline) => areaUnder(outline, (x) => x),
    edges: [],
    pointAt: ([right, down]) => along(along(through, x, right), y, down),
    unitsAt: () => [1, 1],
  };
}

/** ∮ F(first) d(second) over straight pieces in the chart: the area where F is the integral of the area’s density. */
export function areaUnder(outline: readonly Meeting[], integral: (first: number) => number): number {
  let sum = 0;
  outline.forEach(({ chart: to }, i) => {
    const { chart: from } = outline.at(i - 1) ?? { chart: to };
    // Simpson’s rule along the piece; exact where the density is linear, as on a cone.
    const middle = integral((from[0] + to[0]) / 2);
    sum += ((integral(from[0]) + 4 * middle + integral(to[0])) / 6) * (to[1] - from[1]);
  });
  return sum;
}

/** Chords on a surface are no longer than this, mm: the definition of a length along a mark. */
export const CHORD_MM = 5;

/** Sum of distances between meetings one after the other, mm. */
export function wayAlong(line: readonly Meeting[]): number {
  let sum = 0;
  for (let i = 1; i < line.length; i += 1) {
    const [a, b] = [line[i - 1], line[i]];
    if (a !== undefined && b !== undefined) sum += distance(a.point, b.point);
  }
  return sum;
}

/** Angle between the line of sight and the surface’s normal, radians; 0 is square. */
export function obliquityAt({ point, normal }: Meeting): number {
  return Math.acos(Math.min(1, Math.abs(dot(point, normal)) / (norm(point) * norm(normal))));
}
