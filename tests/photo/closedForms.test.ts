import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { type CameraGuess, type Lens, project, rayThrough } from '../../lib/photo/camera.ts';
import { locatePoints } from '../../lib/photo/flatReference.ts';
import { normalising, type Point } from '../../lib/photo/homography.ts';
import { lathe } from '../../lib/photo/lathe.ts';
import type { Placing } from '../../lib/photo/placement.ts';
import { PICK_EVIDENCE, propagate } from '../../lib/photo/propagate.ts';
import { SIZE_EVIDENCE } from '../../lib/photo/reference.ts';
import { sizeOn, type Taking } from '../../lib/photo/size.ts';
import { obliquityAt, plane, type Surface } from '../../lib/photo/surface.ts';
import { distance, type Vec3 } from '../../lib/photo/vector.ts';
import { caseOf } from '../support/cases.ts';

const lens: Lens = { focalPx: 5000, centrePx: [1999.5, 1499.5], k1: 0, k2: 0 };
const radians = (degrees: number) => (degrees * Math.PI) / 180;

/** A cylinder whose nearest line lies across the picture, this far away. */
function cylinder(radius: number, farMm: number): Surface {
  const piece = { from: [-500, radius], to: [500, radius], normal: [0, 1], zone: null } as const;
  return lathe([piece], {
    point: [0, 0, farMm + radius],
    axialMm: 0,
    direction: [1, 0, 0],
    outward: [0, 0, -1],
  });
}

/** A point round that cylinder from its nearest line. */
const round = (radius: number, farMm: number, angle: number): Vec3 => [
  0,
  radius * Math.sin(angle),
  farMm + radius * (1 - Math.cos(angle)),
];

/** Size of the straight line in the picture between two points in space; chords far below those of a mark. */
function sizeBetween(surface: Surface, ends: readonly Vec3[], taking: Taking, chordMm?: number): number {
  const picked = ends.map((end) => project(lens, end));
  return must(sizeOn(surface, lens, [picked], taking, chordMm), 'size');
}

const met = (surface: Surface, point: Vec3) =>
  must(surface.meet(rayThrough(lens, project(lens, point))), 'meeting').point;

/** How far a surface comes before the middle of the chord between two of its points. */
function rise(surface: Surface, [a, b]: readonly [Vec3, Vec3]): number {
  const [one, other] = [met(surface, a), met(surface, b)];
  const middle: Vec3 = [(one[0] + other[0]) / 2, (one[1] + other[1]) / 2, (one[2] + other[2]) / 2];
  return distance(met(surface, middle), middle);
}

describe('arcs and chords on a cylinder', () => {
  test('published case E-07: chord of 200 on a radius of 600', () => {
    const { inputs, recomputed } = caseOf('E-07');
    const { radius, chord } = inputs;
    const half = Math.asin(chord / (2 * radius));
    const ends = [round(radius, 900, -half), round(radius, 900, half)] as const;
    const part = cylinder(radius, 900);
    expect(sizeBetween(part, ends, 'chord')).toBeCloseTo(chord, 9);
    const arc = sizeBetween(part, ends, 'length', 0.1);
    expect(arc).toBeCloseTo(recomputed.arc, 6);
    expect(arc - chord).toBeCloseTo(recomputed.excess, 6);
    expect(rise(part, ends)).toBeCloseTo(recomputed.sagitta, 9);
    // As marks are measured: chords of up to 5 mm cut less than a hundred-thousandth off.
    expect(1 - sizeBetween(part, ends, 'length') / recomputed.arc).toBeLessThan(1e-5);
  });

  test('published case E-08: a one-degree curve by arc and by chord', () => {
    const { inputs, expected } = caseOf('E-08');
    const half = radians(inputs.angle_deg) / 2;
    const measured = (radius: number, taking: Taking) => {
      const ends = [round(radius, 900, -half), round(radius, 900, half)];
      return sizeBetween(cylinder(radius, 900), ends, taking, 0.1);
    };
    // The published radii are rounded to 0.01.
    const rounding = (0.005 / expected.R_arc) * inputs.chord_or_arc;
    expect(Math.abs(measured(expected.R_arc, 'length') - inputs.chord_or_arc)).toBeLessThan(rounding);
    expect(Math.abs(measured(expected.R_chord, 'chord') - inputs.chord_or_arc)).toBeLessThan(rounding);
    const excess = measured(expected.R_chord, 'length') / measured(expected.R_chord, 'chord');
    expect(Math.abs(excess * inputs.chord_or_arc - expected.arc_on_chord_curve)).toBeLessThan(5e-5);
  });

  test('published case E-09: the circle through a chord and its sagitta is a cylinder of that radius', () => {
    const { inputs, expected } = caseOf('E-09');
    const ends: [Vec3, Vec3] = [
      [0, -inputs.chord / 2, 900 + inputs.sagitta],
      [0, inputs.chord / 2, 900 + inputs.sagitta],
    ];
    const off = (radius: number) =>
      Math.max(...ends.map((end) => distance(met(cylinder(radius, 900), end), end)));
    expect(off(expected.radius)).toBeLessThan(1e-8);
    expect(rise(cylinder(expected.radius, 900), ends)).toBeCloseTo(inputs.sagitta, 8);
    expect(off(expected.radius + 1)).toBeGreaterThan(0.01);
    expect(off(expected.radius - 1)).toBeGreaterThan(0.01);
  });

  test('arc and chord are 2R·asin(c/2R) apart on every cylinder, and the arc is never the shorter', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 200, max: 2000, noNaN: true }),
        fc.double({ min: 0.01, max: 0.3, noNaN: true }),
        (radius, half) => {
          const ends = [round(radius, 1500, -half), round(radius, 1500, half)];
          const part = cylinder(radius, 1500);
          const chord = sizeBetween(part, ends, 'chord');
          const arc = sizeBetween(part, ends, 'length', 1);
          expect(arc).toBeGreaterThanOrEqual(chord * (1 - 1e-12));
          expect(arc / (2 * radius * Math.asin(chord / (2 * radius)))).toBeCloseTo(1, 5);
        },
      ),
      { numRuns: 50 },
    );
  });
});

describe('a plane', () => {
  test('published case E-11: a length along the lean of a plane is lost by 1 − cos where it is taken as square', () => {
    const { inputs, recomputed } = caseOf('E-11');
    inputs.angle_deg.forEach((degrees: number, i: number) => {
      const [c, s] = [Math.cos(radians(degrees)), Math.sin(radians(degrees))];
      const oblique = plane([0, 0, 1000], [s, 0, -c]);
      // Short, so that its nearer half is not seen larger than its farther one.
      const ends: Vec3[] = [
        [-c / 2, 0, 1000 - s / 2],
        [c / 2, 0, 1000 + s / 2],
      ];
      expect(sizeBetween(oblique, ends, 'length')).toBeCloseTo(1, 9);
      const square = sizeBetween(plane([0, 0, 1000], [0, 0, -1]), ends, 'length');
      expect(1 - square).toBeCloseTo(recomputed.relative_error[i], 6);
      const middle = must(oblique.meet([0, 0, 1]), 'middle');
      expect(obliquityAt(middle)).toBeCloseTo(radians(degrees), 9);
    });
  });

  test('published case E-16: two clicks and the scale', () => {
    const { inputs, recomputed } = caseOf('E-16');
    const sure: CameraGuess = { source: 'camera profile', lens, focalShareU: 1e-7, k1U: 1e-7 };
    const far = inputs.pixel_mm * lens.focalPx;
    const corners: Point[] = [
      [-80, -50],
      [80, -50],
      [80, 50],
      [-80, 50],
    ];
    // Square to the camera, found without fault: what is left is the size of the reference and the clicks.
    const located = locatePoints(
      {
        mm: corners,
        px: corners.map(([x, y]) => project(lens, [x, y, far])),
        patchMm: null,
        pointU: 1e-4,
        learnSpread: false,
        sizeShareU: inputs.rel_u_scale,
        aspectShareU: 1e-7,
      },
      sure,
    );
    if (!located.ok) throw new Error(located.error.message);
    const inItsPlane: Placing = {
      what: 'plane of the reference',
      unknowns: [],
      surfaceOf: ({ frame }) => plane(frame.origin, frame.normal),
      axleOf: () => null,
      ledge: null,
      zoneAreaMm2: null,
      alternatives: [],
    };
    const found = must(
      propagate({
        reference: located.value,
        placing: inItsPlane,
        lines: [
          [
            [1600, 1400],
            [1600 + inputs.length_px, 1400],
          ],
        ],
        taking: 'length',
        pickU: inputs.click_half_width_px / Math.sqrt(3),
      }),
      'size',
    );
    const part = (name: string) =>
      must(
        found.contributions.find((one) => one.name === name),
        name,
      ).u;
    expect(found.by).toBe('first order');
    expect(found.value).toBeCloseTo(inputs.length_px * inputs.pixel_mm, 6);
    expect(part(PICK_EVIDENCE)).toBeCloseTo(recomputed.u_click_mm, 6);
    expect(part(SIZE_EVIDENCE)).toBeCloseTo(recomputed.u_scale_mm, 6);
    expect(found.u).toBeCloseTo(recomputed.u_mm, 6);
    expect(2 * found.u).toBeCloseTo(recomputed.U_mm, 6);
  });

  test('published case E-04: points are normalised to their middle and a mean distance of √2', () => {
    const { inputs, recomputed } = caseOf('E-04');
    const matrix = normalising(inputs.points);
    expect(matrix.get(0, 0)).toBeCloseTo(recomputed.scale, 12);
    expect(matrix.get(1, 1)).toBeCloseTo(recomputed.scale, 12);
    expect(-matrix.get(0, 2) / matrix.get(0, 0)).toBeCloseTo(recomputed.centroid[0], 12);
    expect(-matrix.get(1, 2) / matrix.get(1, 1)).toBeCloseTo(recomputed.centroid[1], 12);
    expect(Math.SQRT2 / matrix.get(0, 0)).toBeCloseTo(recomputed.mean_distance, 12);
  });
});
