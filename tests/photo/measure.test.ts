import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import type { PointPx, Shape } from '../../lib/marks/index.ts';
import {
  homographyFrom,
  knownRectangles,
  mapPoint,
  type PhotoScene,
  type Placed,
  type Point,
  partLengths,
  STATED_SIZE,
  SURFACE_BY_ZONE,
} from '../../lib/photo/index.ts';
import type { PhotoCamera, PhotoScale, SurfaceChoice } from '../../lib/record/index.ts';
import { constructionOf, parseDesignation, sectionOf } from '../../lib/wheel/index.ts';
import { caseOf } from '../support/cases.ts';
import { measureShape } from '../support/measureShape.ts';

/** A camera of 3000 px focal length whose picture is 4000 × 3000: 26 mm in terms of 35 mm film. */
const camera: PhotoCamera = { widthPx: 4000, heightPx: 3000, focal35Mm: 26, profile: null };
const flat: SurfaceChoice = { form: 'plane', offsetMm: 0, offsetUMm: 0 };
const sceneOf = (scale: PhotoScale, surface = flat): PhotoScene => ({
  scale,
  camera,
  surface,
  section: null,
});
const placed = (shape: Shape): Placed => ({ shape, slot: null, zone: 'gutter weld' });
const measure = (shape: Shape, scale: PhotoScale) => measureShape(placed(shape), sceneOf(scale));

const trace = (...points: PointPx[]): Shape => ({ form: 'trace', branches: [points] });
const card = (corners: PointPx[]): PhotoScale => ({
  source: 'rectangle',
  corners: corners as [PointPx, PointPx, PointPx, PointPx],
  widthMm: 85.6,
  heightMm: 53.98,
  what: 'ID-1 card',
});

describe('homographies', () => {
  // Sources: named in the case files beside each case.
  test.each(['E-01', 'E-02', 'E-17'])('published case %s', (id) => {
    const { inputs, expected } = caseOf(id);
    const h = homographyFrom(inputs.src as PointPx[], inputs.dst as Point[]);
    expect(h.ok).toBe(true);
    if (!h.ok) return;
    const points = (inputs.points ?? inputs.check_src) as Point[];
    points.forEach((point, index) => {
      const mapped = mapPoint(h.value, point);
      const wanted = must((expected.mapped as Point[])[index], 'a mapped point');
      expect(mapped[0]).toBeCloseTo(wanted[0], 3);
      expect(mapped[1]).toBeCloseTo(wanted[1], 3);
    });
  });

  test('published case E-03: eight points, residuals of the linear solution', () => {
    const { inputs, expected } = caseOf('E-03');
    const src = inputs.src as PointPx[];
    const dst = inputs.dst as Point[];
    const h = homographyFrom(src, dst);
    if (!h.ok) throw new Error('no solution');
    const residuals = src.map((point, i) => {
      const [x, y] = mapPoint(h.value, point);
      return Math.hypot(x - must(dst[i], 'dst')[0], y - must(dst[i], 'dst')[1]);
    });
    const rms = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / residuals.length);
    expect(rms).toBeCloseTo(expected.rms_residual as number, 0);
    expect(Math.max(...residuals)).toBeCloseTo(expected.max_residual as number, 0);
  });

  test('published case E-05: three corners on a line are refused with a way out', () => {
    const { inputs } = caseOf('E-05');
    const h = homographyFrom(inputs.src as PointPx[], inputs.dst as Point[]);
    expect(h).toMatchObject({ ok: false, error: { code: 'homography-degenerate' } });
  });
});

describe('sizes on a photo', () => {
  test('published case E-06: a 150 mm line measured through a card', () => {
    const { inputs } = caseOf('E-06');
    const measured = measure(trace(...(inputs.line_px as PointPx[])), card(inputs.card_px as PointPx[]));
    expect(measured.ok && Math.abs(measured.value.value - 150)).toBeLessThan(0.15);
  });

  test('a stated size of the part gives scale with a larger uncertainty than a tape', () => {
    const size = parseDesignation('25-22.00/3.0');
    if (!size.ok) throw new Error(size.error.message);
    const lengths = partLengths(size.value);
    expect(lengths.map(({ lengthMm, typed }) => [lengthMm, typed])).toEqual([
      [558.8, '22 in'],
      [expect.closeTo(76.2, 9), '3 in'],
    ]);
    const uOver = (what: string, lengthMm: number) => {
      const ends: [PointPx, PointPx] = [
        [1000, 1500],
        [3000, 1500],
      ];
      const scale: PhotoScale = { source: 'known length', ends, lengthMm, typed: `${lengthMm}`, what };
      const taken = measure(trace([1000, 1600], [3000, 1600]), scale);
      if (!taken.ok) throw new Error(taken.error.message);
      expect(taken.value.value).toBeCloseTo(lengthMm, 0);
      return taken.value.contributions.find(({ name }) => name === 'size of the reference')?.u ?? 0;
    };
    // Rectangular: a hundredth of the width, or two millimetres of the flange height, over √3 (JCGM 100, 4.3.7).
    for (const { what, lengthMm } of lengths)
      expect(uOver(what, lengthMm)).toBeCloseTo(Math.max(0.01 * lengthMm, 2) / Math.sqrt(3), 2);
    expect(uOver(STATED_SIZE, 100)).toBeCloseTo(1 / Math.sqrt(3), 2);
    expect(uOver('tape', 100)).toBeLessThan(0.5 / Math.sqrt(3) + 0.01);
  });

  test('standard rectangles have the sizes of their standards (case E-12: ISO 216, ISO/IEC 7810)', () => {
    const { expected } = caseOf('E-12');
    const nominal = Object.values(expected.nominal_mm as Record<string, [number, number]>).map((sides) =>
      [...sides].sort().join(),
    );
    const standard = knownRectangles.filter(({ what }) => !what.startsWith('Scale card'));
    expect(standard.map((one) => [one.widthMm, one.heightMm].sort().join()).sort()).toEqual(nominal.sort());
  });

  test('a known length gives one scale for all directions and says that foreshortening is not known', () => {
    const scale: PhotoScale = {
      source: 'known length',
      ends: [
        [0, 0],
        [200, 0],
      ],
      lengthMm: 100,
      typed: '100',
      what: 'tape',
    };
    const measured = measure(trace([10, 10], [10, 110]), scale);
    expect(measured).toMatchObject({ ok: true });
    if (!measured.ok) return;
    expect(measured.value.value).toBeCloseTo(50, 0);
    expect(measured.value.mmPerPx).toBeCloseTo(0.5, 2);
    expect(measured.value.contributions[0]?.name).toContain('how square the camera looks');
    const names = measured.value.contributions.map((one) => one.u);
    expect(names).toEqual([...names].sort((a, b) => b - a));
    expect(measured.value.u).toBeGreaterThanOrEqual(Math.hypot(...names) - 1e-12);
  });

  test('branches of a crack are added up', () => {
    const scale: PhotoScale = {
      source: 'known length',
      ends: [
        [0, 0],
        [100, 0],
      ],
      lengthMm: 50,
      typed: '50',
      what: 'tape',
    };
    const forked: Shape = {
      form: 'trace',
      branches: [
        [
          [0, 0],
          [30, 40],
        ],
        [
          [30, 40],
          [30, 60],
        ],
      ],
    };
    const measured = measure(forked, scale);
    expect(measured.ok && measured.value.value).toBeCloseTo(35, 0);
  });

  test('the area of a patch does not depend on where its outline starts nor on its sense', () => {
    const corners: PointPx[] = [
      [100, 100],
      [500, 104],
      [498, 356],
      [102, 352],
    ];
    const outline: PointPx[] = [
      [150, 150],
      [300, 160],
      [320, 300],
      [200, 320],
      [140, 240],
    ];
    const area = (points: PointPx[]) => {
      const measured = measure({ form: 'patch', outline: points }, card(corners));
      return measured.ok ? measured.value.value : Number.NaN;
    };
    const first = area(outline);
    expect(first).toBeGreaterThan(0);
    expect(area([...outline.slice(2), ...outline.slice(0, 2)])).toBeCloseTo(first, 6);
    expect(area([...outline].reverse())).toBeCloseTo(first, 6);
  });

  test('a mark beyond the horizon of the scale’s plane is not measured', () => {
    // A card on a floor seen at a flat angle by this camera: 65° from square, 600 mm away.
    const [c, s] = [Math.cos((65 * Math.PI) / 180), Math.sin((65 * Math.PI) / 180)];
    const at = (x: number, y: number): PointPx => {
      const depth = 600 - y * s;
      return [1999.5 + (3004.5 * x) / depth, 1499.5 + (3004.5 * y * c) / depth];
    };
    const floor = card([at(-42.8, -27), at(42.8, -27), at(42.8, 27), at(-42.8, 27)]);
    const on = measure(trace(at(0, 0), at(40, 20)), floor);
    expect(on.ok && on.value.value).toBeCloseTo(Math.hypot(40, 20), 0);
    const horizon = 1499.5 - (3004.5 * c) / s;
    expect(measure(trace(at(0, 0), [2000, horizon - 40]), floor)).toMatchObject({
      ok: false,
      error: { code: 'measure-horizon' },
    });
  });

  test('beside the zone the program says that it knows no surface; a surface chosen by hand stands', () => {
    const size = parseDesignation('25-22.00/3.0');
    if (!size.ok) throw new Error(size.error.message);
    const section = sectionOf(constructionOf('three-piece with disc'), size.value);
    // An ID-1 card 900 mm before the camera, and a crack 400 mm to its side: past the round of a rim of 320 mm radius.
    const at = (x: number, y: number): PointPx => [1999.5 + (3004.5 * x) / 900, 1499.5 + (3004.5 * y) / 900];
    const scale = card([at(-42.8, -27), at(42.8, -27), at(42.8, 27), at(-42.8, 27)]);
    const take = (from: number, surface: SurfaceChoice) =>
      measureShape(
        { shape: trace(at(from, 0), at(from + 60, 0)), slot: 'rim base', zone: 'gutter groove' },
        { scale, camera, surface, section },
      );
    const near = take(0, SURFACE_BY_ZONE);
    const beside = take(400, SURFACE_BY_ZONE);
    if (!near.ok || !beside.ok) throw new Error('not measured');
    expect(near.value.surface).toContain('gutter groove');
    expect(beside.value.surface).toContain('does not fit its zone');
    expect(Math.abs(beside.value.value - 60)).toBeLessThan(2 * beside.value.u);
    expect(beside.value.u).toBeGreaterThan(near.value.u);
    const byHand = take(400, {
      form: 'zone of the mark',
      restsOn: null,
      turnDegrees: 0,
      gutterSide: null,
    });
    expect(byHand).toMatchObject({ ok: false, error: { code: 'measure-horizon' } });
  });

  test('four corners that cannot be such a rectangle seen by this camera are refused', () => {
    const corners: PointPx[] = [
      [400, 300],
      [600, 300],
      [900, 600],
      [100, 600],
    ];
    expect(measure(trace([500, 400], [510, 420]), card(corners))).toMatchObject({
      ok: false,
      error: { code: 'reference-misfit', field: 'scale' },
    });
  });

  test('a known length whose ends coincide, and a spot, are refused', () => {
    const scale: PhotoScale = {
      source: 'known length',
      ends: [
        [5, 5],
        [5, 5],
      ],
      lengthMm: 100,
      typed: '100',
      what: 'tape',
    };
    expect(measure(trace([0, 0], [1, 1]), scale)).toMatchObject({
      ok: false,
      error: { field: 'scale.ends' },
    });
    const longer: PhotoScale = {
      ...scale,
      ends: [
        [5, 5],
        [505, 5],
      ],
    } as PhotoScale;
    expect(measure({ form: 'spot', at: [1, 1] }, longer)).toMatchObject({
      ok: false,
      error: { code: 'measure-form' },
    });
  });
});
