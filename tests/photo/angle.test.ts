import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import type { PointPx, Shape } from '../../lib/marks/index.ts';
import { type Lens, project } from '../../lib/photo/camera.ts';
import type { PhotoMeasure } from '../../lib/photo/index.ts';
import { type Axle, lathe } from '../../lib/photo/lathe.ts';
import { PICK_EVIDENCE } from '../../lib/photo/propagate.ts';
import { PICK_U_PX } from '../../lib/photo/scales.ts';
import { sizeOn } from '../../lib/photo/size.ts';
import { plane, type Surface } from '../../lib/photo/surface.ts';
import { cross, unit, type Vec3 } from '../../lib/photo/vector.ts';
import type { PhotoCamera, PhotoScale } from '../../lib/record/index.ts';
import { measureShape } from '../support/measureShape.ts';

const lens: Lens = { focalPx: 3000, centrePx: [1999.5, 1499.5], k1: 0.03, k2: -0.02 };
const degrees = (radians: number) => (radians * 180) / Math.PI;
const radians = (angle: number) => (angle * Math.PI) / 180;
const angleOn = (surface: Surface, first: Vec3, vertex: Vec3, second: Vec3) => {
  const line = [first, vertex, second].map((point) => project(lens, point));
  return must(sizeOn(surface, lens, [line], 'angle'), 'angle');
};

describe('an angle on a plane seen obliquely is the true one', () => {
  // Leaning by 50° from square, 700 mm away.
  const normal: Vec3 = unit([Math.sin(radians(50)), 0.2, -Math.cos(radians(50))]);
  const x = unit(cross(normal, [0, 1, 0]));
  const y = cross(normal, x);
  const centre: Vec3 = [20, -30, 700];
  const surface = plane(centre, normal);
  const at = (mm: number, turn: number): Vec3 => {
    const [c, s] = [mm * Math.cos(radians(turn)), mm * Math.sin(radians(turn))];
    return [0, 1, 2].map((k) => (centre[k as 0] ?? 0) + c * (x[k as 0] ?? 0) + s * (y[k as 0] ?? 0)) as never;
  };

  test.each([0.5, 30, 90, 135, 179.5, 180])('%s°, wherever its first arm points', (angle) => {
    for (const first of [0, 40, 130, 250]) {
      const found = angleOn(surface, at(60, first), centre, at(35, first + angle));
      expect(Math.abs(found)).toBeCloseTo(angle, 6);
    }
  });

  test('either arm first gives the same angle with the other sign, and no length of arm matters', () => {
    const found = angleOn(surface, at(60, 10), centre, at(35, 97.4));
    expect(angleOn(surface, at(5, 97.4), centre, at(110, 10))).toBeCloseTo(-found, 6);
  });

  test('an arm that ends on the vertex gives none', () => {
    const line = [centre, centre, at(35, 20)].map((point) => project(lens, point));
    expect(sizeOn(surface, lens, [line], 'angle')).toBeNull();
  });
});

/** An axle across the picture, with the camera looking at it from outside. */
const axle: Axle = { point: [0, 0, 1100], axialMm: 0, direction: [1, 0, 0], outward: [0, 0, -1] };
const turned = (axial: number, radius: number, angle: number): Vec3 => [
  axial,
  radius * Math.sin(angle),
  1100 - radius * Math.cos(angle),
];

describe('on round surfaces an angle is that of the surface rolled flat (solid geometry, textbook)', () => {
  const R = 600;
  const cylinder = lathe([{ from: [-500, R], to: [500, R], normal: [0, 1], zone: null }], axle);

  test('round a cylinder and along it are at 90°, however obliquely seen', () => {
    for (const [axial, angle] of [
      [0, 0],
      [150, 0.35],
      [-200, -0.4],
    ] as const) {
      const vertex = turned(axial, R, angle);
      const found = angleOn(cylinder, turned(axial, R, angle + 0.2), vertex, turned(axial + 60, R, angle));
      expect(Math.abs(found)).toBeCloseTo(90, 6);
    }
  });

  test.each([10, 30, 45, 60, 80])('a screw line at %s° to the axle keeps that angle', (slant) => {
    const [along, round] = [150 * Math.cos(radians(slant)), 150 * Math.sin(radians(slant))];
    const vertex = turned(30, R, 0.1);
    const found = angleOn(cylinder, turned(130, R, 0.1), vertex, turned(30 + along, R, 0.1 + round / R));
    expect(Math.abs(found)).toBeCloseTo(slant, 6);
  });

  test('on a flat face of the rim it is the plane one', () => {
    const aside: Axle = { point: [-300, 0, 900], axialMm: 0, direction: [0, 0, -1], outward: [1, 0, 0] };
    const face = lathe([{ from: [0, 100], to: [0, 500], normal: [1, 0], zone: null }], aside);
    const on = (x: number, y: number): Vec3 => [x, y, 900];
    const found = angleOn(face, on(60, 20), on(0, 0), on(-40, 90));
    const closed = degrees(Math.atan2(90, -40) - Math.atan2(20, 60));
    expect(Math.abs(found)).toBeCloseTo(closed, 6);
  });

  test.each([
    [5, 100, 0.04],
    [30, 100, 0.04],
    [60, 100, 0.04],
    [30, 150, 0.12],
    [45, 150, 0.12],
  ])('on a cone of %s° and 300 mm radius arms of %s mm are right within %s°', (lean, armMm, limit) => {
    const [sine, cosine] = [Math.sin(radians(lean)), Math.cos(radians(lean))];
    const radiusAt = (x: number) => 300 + x * (sine / cosine);
    const cone = lathe(
      [{ from: [-150, radiusAt(-150)], to: [300, radiusAt(300)], normal: [-sine, cosine], zone: null }],
      axle,
    );
    // Rolled flat, the cone is a sector: the way from its tip is the radius over the sine of its lean.
    const tipMm = 300 / sine;
    const rolledOff = (turn: number) => {
      const [x, y] = [tipMm + armMm * Math.cos(turn), armMm * Math.sin(turn)];
      return turned((Math.hypot(x, y) - tipMm) * cosine, Math.hypot(x, y) * sine, Math.atan2(y, x) / sine);
    };
    for (const turn of [20, 50, 60, 75, 110, 130]) {
      const found = angleOn(cone, rolledOff(0), turned(0, 300, 0), rolledOff(radians(turn)));
      expect(Math.abs(Math.abs(found) - turn)).toBeLessThan(limit);
    }
  });
});

/** A plate 500 mm before a camera that has no distortion, leaning by `lean` degrees; points on it in px. */
function plateAt(lean: number) {
  const camera: PhotoCamera = { widthPx: 4000, heightPx: 3000, focal35Mm: 26, profile: null };
  const focalPx = (26 * 5000) / Math.hypot(36, 24);
  const straight: Lens = { focalPx, centrePx: [1999.5, 1499.5], k1: 0, k2: 0 };
  const [c, s] = [Math.cos(radians(lean)), Math.sin(radians(lean))];
  const at = (x: number, y: number): PointPx => {
    const [u, v] = project(straight, [x * c, y, 500 + x * s]);
    return [u, v];
  };
  const scale: PhotoScale = {
    source: 'rectangle',
    corners: [at(-80, -50), at(80, -50), at(80, 50), at(-80, 50)],
    widthMm: 160,
    heightMm: 100,
    what: 'plate',
  };
  const arm = (mm: number, turn: number) => at(mm * Math.cos(radians(turn)), mm * Math.sin(radians(turn)));
  const take = (shape: Shape, by: PhotoScale = scale) =>
    measureShape(
      { shape, slot: null, zone: 'gutter lip' },
      { scale: by, camera, surface: { form: 'plane', offsetMm: 0, offsetUMm: 0 }, section: null },
    );
  const measured = (shape: Shape, by: PhotoScale = scale): PhotoMeasure => {
    const found = take(shape, by);
    if (!found.ok) throw new Error(found.error.message);
    return found.value;
  };
  return { at, arm, take, measured, pxPerMm: focalPx / 500 };
}

describe('the angle of a mark', () => {
  const angle = (vertex: PointPx, a: PointPx, b: PointPx): Shape => ({ form: 'angle', vertex, arms: [a, b] });

  test('is told in degrees, the true one of a plate that leans by 40°', () => {
    const { at, arm, measured } = plateAt(40);
    const size = measured(angle(at(0, 0), arm(40, 15), arm(45, 102.4)));
    expect(size).toMatchObject({ quantity: 'angle' });
    expect(size.value).toBeCloseTo(87.4, 1);
    expect(size.u).toBeGreaterThan(0.1);
    expect(size.u).toBeLessThan(3);
  });

  // The turn of an arm of length a is σ/a for its end, and the vertex turns both arms at once.
  test.each([0, 60, 90, 180])('picking has its closed form at %s°, where nothing folds over', (turn) => {
    const { at, arm, measured, pxPerMm } = plateAt(0);
    const size = measured(angle(at(0, 0), arm(40, 20), arm(25, 20 + turn)));
    const [a, b] = [40 * pxPerMm, 25 * pxPerMm];
    const squares = 2 / a ** 2 + 2 / b ** 2 - (2 * Math.cos(radians(turn))) / (a * b);
    const picking = size.contributions.find(({ name }) => name === PICK_EVIDENCE);
    expect(picking?.u).toBeCloseTo(degrees(PICK_U_PX * Math.sqrt(squares)), 3);
    expect(size.u).toBeGreaterThanOrEqual(must(picking, 'picking').u);
    expect(size.value).toBeGreaterThanOrEqual(0);
    expect(size.value).toBeLessThanOrEqual(180);
    expect(Math.abs(size.value - turn)).toBeLessThan(size.u);
  });

  test('with one known length it is less sure than with a rectangle: how the plane leans is not known', () => {
    const { at, arm, measured } = plateAt(0);
    const shape = angle(at(0, 0), arm(40, 0), arm(40, 50));
    const ends: [PointPx, PointPx] = [at(-80, -50), at(80, -50)];
    const known: PhotoScale = { source: 'known length', ends, lengthMm: 160, typed: '160', what: 'tape' };
    expect(measured(shape, known).u).toBeGreaterThan(2 * measured(shape).u);
  });

  test('without an arm it is refused, naming the arms and the way out', () => {
    const { at, arm, take } = plateAt(20);
    expect(take(angle(at(0, 0), at(0, 0), arm(40, 50)))).toMatchObject({
      ok: false,
      error: { code: 'arm-no-length', field: 'shape.arms', wayOut: expect.stringContaining('vertex') },
    });
  });

  test('beyond the horizon of its plane it is not measured', () => {
    const { at, take } = plateAt(80);
    expect(take(angle(at(0, 0), at(40, 0), [3999, 1500]))).toMatchObject({
      ok: false,
      error: { code: 'measure-horizon' },
    });
  });
});
