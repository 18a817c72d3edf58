import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type Lens, project, rayThrough } from '../../lib/photo/camera.ts';
import type { Point } from '../../lib/photo/homography.ts';
import { type Axle, lathe } from '../../lib/photo/lathe.ts';
import type { ProfilePiece } from '../../lib/photo/profile.ts';
import { sizeOn } from '../../lib/photo/size.ts';
import { plane, type Surface } from '../../lib/photo/surface.ts';
import type { Vec3 } from '../../lib/photo/vector.ts';

const lens: Lens = { focalPx: 3000, centrePx: [1999.5, 1499.5], k1: 0.03, k2: -0.02 };
/** An axle across the picture, 1000 mm away, with the camera looking at it from outside. */
const axle: Axle = { point: [0, 0, 1100], axialMm: 0, direction: [1, 0, 0], outward: [0, 0, -1] };

/** A point of a surface of revolution: axial way, radius, angle from the side that faces the camera. */
function turned(axial: number, radius: number, angle: number): Vec3 {
  return [axial, radius * Math.sin(angle), 1100 - radius * Math.cos(angle)];
}

const pixels = (points: readonly Vec3[]): Point[] => points.map((point) => project(lens, point));
const steps = (n: number) => Array.from({ length: n + 1 }, (_, i) => i / n);
const size = (surface: Surface, points: readonly Vec3[], taking: 'length' | 'area') =>
  Math.abs(must(sizeOn(surface, lens, [pixels(points)], taking), 'size'));

/** Outline of a patch from axial x0 to x1 and from angle a0 to a1, many points a side, on a cone. */
function outline(radius: (x: number) => number, x: [number, number], a: [number, number]): Vec3[] {
  const at = (s: number, t: number) => {
    const axial = x[0] + s * (x[1] - x[0]);
    return turned(axial, radius(axial), a[0] + t * (a[1] - a[0]));
  };
  const n = steps(80).slice(0, -1);
  return [
    ...n.map((s) => at(s, 0)),
    ...n.map((t) => at(1, t)),
    ...n.map((s) => at(1 - s, 1)),
    ...n.map((t) => at(0, 1 - t)),
  ];
}

describe('cylinders and cones against closed forms (solid geometry, textbook)', () => {
  const R = 600;
  const cylinder = lathe([{ from: [-500, R], to: [500, R], normal: [0, 1], zone: null }], axle);
  const taper = Math.tan((5 * Math.PI) / 180);
  const coneRadius = (x: number) => R + taper * x;
  const cone = lathe(
    [
      {
        from: [-500, coneRadius(-500)],
        to: [500, coneRadius(500)],
        normal: [-Math.sin(5 / 57.29578), Math.cos(5 / 57.29578)],
        zone: null,
      },
    ],
    axle,
  );

  test('a line of sight meets a cylinder where the point was', () => {
    for (const [x, angle] of [
      [0, 0],
      [120, 0.2],
      [-200, -0.25],
    ] as const) {
      const point = turned(x, R, angle);
      const met = must(cylinder.meet(rayThrough(lens, project(lens, point))), 'meeting');
      expect(met.point[0]).toBeCloseTo(point[0], 4);
      expect(met.point[1]).toBeCloseTo(point[1], 4);
      expect(met.point[2]).toBeCloseTo(point[2], 4);
      expect(must(cylinder.pointAt(met.chart), 'point')[1]).toBeCloseTo(point[1], 4);
    }
  });

  test('an arc round a cylinder is R·θ, less what chords of 5 mm cut off', () => {
    const line = steps(60).map((t) => turned(0, R, -0.15 + 0.3 * t));
    const arc = R * 0.3;
    // A chord c cuts c³/24R² off its arc: 3 mm chords on 600 mm lose a millionth.
    expect(size(cylinder, line, 'length')).toBeCloseTo(arc, 2);
    // Picked at its ends alone it is laid on the surface by itself, in a straight line of the picture.
    const ends = size(cylinder, [turned(0, R, -0.15), turned(0, R, 0.15)], 'length');
    expect(Math.abs(ends / arc - 1)).toBeLessThan(2e-4);
  });

  test('a helix on a cylinder is √(x² + (Rθ)²)', () => {
    const line = steps(60).map((t) => turned(-60 + 120 * t, R, -0.1 + 0.2 * t));
    expect(size(cylinder, line, 'length')).toBeCloseTo(Math.hypot(120, R * 0.2), 2);
  });

  test('a patch on a cylinder is x·R·θ', () => {
    const patch = outline(() => R, [-40, 60], [-0.1, 0.12]);
    expect(size(cylinder, patch, 'area')).toBeCloseTo(100 * R * 0.22, 0);
  });

  test('a patch on a 5° cone is half the angle times the difference of the squared slant lengths times the sine', () => {
    const patch = outline(coneRadius, [-40, 60], [-0.1, 0.12]);
    const [r0, r1] = [coneRadius(-40), coneRadius(60)];
    const exact = (0.22 * (r1 * r1 - r0 * r0)) / (2 * Math.sin((5 * Math.PI) / 180));
    expect(size(cone, patch, 'area') / exact).toBeCloseTo(1, 4);
  });

  test('metal that faces away is not met, and lines of sight that pass by give nothing', () => {
    const far = lathe([{ from: [-500, R], to: [500, R], normal: [0, -1], zone: null }], axle);
    const met = far.meet(rayThrough(lens, [1999.5, 1499.5]));
    expect(must(met, 'the far side').point[2]).toBeCloseTo(1100 + R, 3);
    expect(cylinder.meet(rayThrough(lens, [1999.5, -40_000]))).toBeNull();
  });

  test('of several pieces the one before the others is met, and its zone named', () => {
    const groove: ProfilePiece[] = [
      { from: [-100, 600], to: [0, 600], normal: [0, 1], zone: 'O-ring groove' },
      { from: [0, 600], to: [0, 580], normal: [1, 0], zone: 'gutter groove' },
      { from: [0, 580], to: [30, 580], normal: [0, 1], zone: 'gutter groove' },
    ];
    const surface = lathe(groove, axle);
    const on = (x: number, r: number) => surface.meet(rayThrough(lens, project(lens, turned(x, r, 0.05))));
    expect(on(-50, 600)?.zone).toBe('O-ring groove');
    expect(on(20, 580)).toMatchObject({ zone: 'gutter groove', strayMm: 0 });
    // Past the end it goes on and says so.
    expect(must(on(45, 580), 'continued').strayMm).toBeCloseTo(15, 3);
    expect(surface.edges.length).toBe(4);
  });

  test('a flat face is measured as a plane is', () => {
    const face = lathe([{ from: [0, 300], to: [0, 900], normal: [-1, 0], zone: null }], {
      point: [0, 0, 500],
      axialMm: 0,
      direction: [0, 0, 1],
      outward: [1, 0, 0],
    });
    const sheet = plane([0, 0, 500], [0, 0, -1]);
    const square: Vec3[] = [
      [400, 20, 500],
      [460, 20, 500],
      [460, 90, 500],
      [400, 90, 500],
    ];
    expect(size(face, square, 'area')).toBeCloseTo(4200, -1);
    // Sides straight in the picture bow a little on the sheet: the lens is not free of distortion.
    expect(size(sheet, square, 'area')).toBeCloseTo(size(face, square, 'area'), 0);
    expect(size(face, square.slice(0, 2), 'length')).toBeCloseTo(60, 3);
  });
});
