import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { linesOf } from '../../lib/marks/index.ts';
import { project } from '../../lib/photo/camera.ts';
import type { Point } from '../../lib/photo/homography.ts';
import { type Placed, photoRuler } from '../../lib/photo/index.ts';
import { monteCarlo } from '../../lib/photo/monteCarlo.ts';
import { firstOrder } from '../../lib/photo/propagate.ts';
import type { PhotoCamera, PhotoScale, SurfaceChoice } from '../../lib/record/index.ts';
import { caseOf } from '../support/cases.ts';

const camera: PhotoCamera = { widthPx: 4000, heightPx: 3000, focal35Mm: 26, profile: null };
const lens = { focalPx: (26 * 5000) / Math.hypot(36, 24), centrePx: [1999.5, 1499.5] as const, k1: 0, k2: 0 };

/** A card 500 mm away, turned by 35°, and a point on its plane. */
const tilt = (35 * Math.PI) / 180;
const at = (x: number, y: number): Point => project(lens, [x * Math.cos(tilt), y, 500 + x * Math.sin(tilt)]);
const card: PhotoScale = {
  source: 'rectangle',
  corners: [at(-80, -50), at(80, -50), at(80, 50), at(-80, 50)] as never,
  widthMm: 160,
  heightMm: 100,
  what: 'plate',
};
const crack: Placed = {
  shape: { form: 'trace', branches: [[at(-30, 10), at(10, 20), at(60, -15)].map(([x, y]) => [x, y])] },
  slot: null,
  zone: 'gutter weld',
};

/** A right angle on the same plane; its arms on one line where `second` is straight on. */
const angle = (second: Point): Placed => {
  const [a, vertex, b] = [at(-40, -20), at(0, 10), second].map(([x, y]): [number, number] => [x, y]);
  return { ...crack, shape: { form: 'angle', vertex, arms: [a, b] } as never };
};

function modelOn(surface: SurfaceChoice, placed = crack) {
  const ruler = photoRuler({ scale: card, camera, surface, section: null });
  if (!ruler.ok) throw new Error(ruler.error.message);
  const { reference } = ruler.value;
  const taking = placed.shape.form === 'angle' ? ('angle' as const) : ('length' as const);
  const lines = linesOf(placed.shape).map(({ points }) => points);
  return { reference, placing: ruler.value.placingFor(placed), lines, taking, pickU: 1.5 };
}

describe('uncertainty by two ways (JCGM 100, 5.1.2, and JCGM 101)', () => {
  test.each([
    ['the plane of the reference', { form: 'plane', offsetMm: 0, offsetUMm: 0 }],
    ['a plane behind it', { form: 'plane', offsetMm: -12, offsetUMm: 1 }],
    ['a cylinder', { form: 'cylinder', radiusMm: 600, turnDegrees: null }],
  ] as const)('first order and Monte Carlo agree within 5 % on %s', (_, surface) => {
    const model = modelOn(surface);
    const linear = must(firstOrder(model), 'first order');
    const u = Math.hypot(...linear.contributions.map((one) => one.u));
    const drawn = must(monteCarlo(model, 4000), 'draws');
    expect(Math.abs(drawn.u / u - 1)).toBeLessThan(0.05);
    expect(linear.value).toBeGreaterThan(99);
  });

  test.each([
    ['of 90° on the plane of the reference', { form: 'plane', offsetMm: 0, offsetUMm: 0 }, at(30, -30), 90],
    ['of 180° there', { form: 'plane', offsetMm: 0, offsetUMm: 0 }, at(48, 46), 180],
    ['of 90° on a cylinder', { form: 'cylinder', radiusMm: 600, turnDegrees: null }, at(30, -30), 90],
  ] as const)('for an angle %s they agree within a twentieth', (_, surface, second, degrees) => {
    const model = modelOn(surface, angle(second));
    const linear = must(firstOrder(model), 'first order');
    const u = Math.hypot(...linear.contributions.map((one) => one.u));
    const drawn = must(monteCarlo(model, 4000), 'draws');
    expect(Math.abs(drawn.u / u - 1)).toBeLessThan(0.05);
    expect(Math.abs(Math.abs(linear.value) - degrees)).toBeLessThan(3);
  });

  test('draws are the same each time', () => {
    const model = modelOn({ form: 'unknown' });
    expect(monteCarlo(model, 50)).toEqual(monteCarlo(model, 50));
  });

  test('with no surface named the uncertainty is many times that in the plane of the reference', () => {
    const u = (surface: SurfaceChoice) => {
      const ruler = photoRuler({ scale: card, camera, surface, section: null });
      const measured = ruler.ok ? ruler.value.measure(crack) : ruler;
      return measured.ok ? measured.value.u : Number.NaN;
    };
    const inPlane = u({ form: 'plane', offsetMm: 0, offsetUMm: 0 });
    expect(u({ form: 'unknown' })).toBeGreaterThan(5 * inPlane);
  });

  test('published case E-10: a mark off the plane by dZ at distance Z is wrong by dZ/Z', () => {
    const { inputs, expected } = caseOf('E-10');
    const [share] = inputs.relative_error_per_mm as [number];
    const [Z] = expected.Z_mm as [number];
    // The same span of pixels on planes one millimetre apart, seen squarely from Z.
    const square = (x: number, y: number): Point => project(lens, [x, y, Z]);
    const scale: PhotoScale = {
      ...card,
      corners: [square(-80, -50), square(80, -50), square(80, 50), square(-80, 50)] as never,
    } as PhotoScale;
    const length = (offsetMm: number) => {
      const ruler = photoRuler({
        scale,
        camera,
        surface: { form: 'plane', offsetMm, offsetUMm: 0 },
        section: null,
      });
      const span: Placed = {
        ...crack,
        shape: { form: 'span', ends: [square(-50, 0), square(50, 0)] as never },
      };
      const measured = ruler.ok ? ruler.value.measure(span) : ruler;
      return measured.ok ? measured.value.value : Number.NaN;
    };
    expect(1 - length(1) / length(0)).toBeCloseTo(share, 6);
  });
});
