import { describe, expect, it } from 'vitest';
import { sectionFor, truths } from '../../bench/support/truth.ts';
import { fail, must, ok, problem } from '../../lib/base/index.ts';
import { type DatedMark, type DatedPhoto, type Growth, growthOf } from '../../lib/history/index.ts';
import type { PointPx, Shape } from '../../lib/marks/index.ts';
import { cardLayout, type PhotoMap, photoRuler, SURFACE_BY_ZONE } from '../../lib/photo/index.ts';

const SIZE = { widthPx: 1600, heightPx: 1200 };
const MOVED: PhotoMap = { from: SIZE, to: SIZE, homography: [1, 0, 100, 0, 1, -50, 0, 0, 1], net: null };
const length = (value: number, u = 0.5) => ok({ quantity: 'length' as const, value, u });
const trace = (...points: PointPx[]): Shape => ({ form: 'trace', branches: [points] });
const mark = (name: string, shape: Shape, size: DatedMark['size'] = length(20)): DatedMark => ({
  mark: name,
  shape,
  defect: 'crack',
  author: 'ina',
  size,
});
const photo = (name: string, at: string, marks: DatedMark[], hours: number | null = null): DatedPhoto => ({
  photo: name,
  at,
  marks,
  hours: hours === null ? null : { hours, u: 10 },
});
const told = (growth: readonly Growth[]) =>
  growth.map(({ earlier, later, says }) => `${earlier?.mark ?? '–'} ${later?.mark ?? '–'} ${says}`).sort();

describe('marks followed from one date to the next', () => {
  const before = photo(
    'a',
    '2024-03-01T00:00:00.000Z',
    [
      mark('crack', trace([500, 500], [700, 510]), length(20, 0.5)),
      mark('repaired', trace([900, 800], [1000, 800])),
      mark('beside', trace([1550, 600], [1590, 600])),
    ],
    1000,
  );
  const after = photo(
    'b',
    '2025-03-01T06:00:00.000Z',
    [
      mark('longer', trace([602, 452], [950, 470]), length(35, 1.2)),
      mark('fresh', trace([300, 200], [400, 210])),
      mark('outside', trace([40, 300], [80, 300])),
    ],
    4000,
  );
  const growth = growthOf(MOVED, 'forth', before, after);

  it('finds what it was before, what is new and what is gone, and says nothing of places the other photo does not show', () => {
    expect(told(growth)).toEqual(
      [
        'crack longer in both',
        'repaired – gone',
        '– fresh new since last time',
        '– outside not shown in the other photo',
        'beside – not shown in the other photo',
      ].sort(),
    );
  });

  it('says by how much it grew, per year and per 1000 h, with the uncertainties added in squares', () => {
    const change = must(growth.find(({ says }) => says === 'in both')?.change, 'a change');
    expect(change.value).toBe(15);
    expect(change.u).toBeCloseTo(1.3, 10);
    expect(change.says).toBe('grown');
    // 365.25 days from the first to the second photo.
    expect(must(change.perYear, 'rate').value).toBeCloseTo(15, 10);
    // 15 mm in 3000 ± √200 h.
    expect(must(change.per1000Hours, 'rate').value).toBeCloseTo(5, 10);
    expect(must(change.per1000Hours, 'rate').u).toBeCloseTo(
      Math.hypot(1.3 / 3, (5 * Math.sqrt(200)) / 3000),
      10,
    );
  });

  it('goes the same way by a map that was made from the later photo to the earlier one', () => {
    const back: PhotoMap = { ...MOVED, homography: [1, 0, -100, 0, 1, 50, 0, 0, 1] };
    expect(told(growthOf(back, 'back', before, after))).toEqual(told(growth));
  });

  it.each([
    [20.9, 'no change beyond the uncertainty'],
    [21.1, 'grown'],
    [19.1, 'no change beyond the uncertainty'],
    [18.9, 'smaller'],
  ])('a size of %d after one of 20, each with u 0.354, is %s', (value, says) => {
    const u = 0.5 / Math.SQRT2;
    const a = photo('a', '2024-03-01T00:00:00.000Z', [
      mark('m', trace([500, 500], [700, 500]), length(20, u)),
    ]);
    const b = photo('b', '2025-03-01T00:00:00.000Z', [
      mark('n', trace([600, 450], [800, 450]), length(value, u)),
    ]);
    expect(growthOf(MOVED, 'forth', a, b)[0]?.change?.says).toBe(says);
  });

  it('says nothing of growth where one of them has no size, and no rate where the dates are the same day', () => {
    const none = fail(problem('none', 'size', null, 'no scale', 'lay a card'));
    const a = photo('a', '2024-03-01T00:00:00.000Z', [mark('m', trace([500, 500], [700, 500]), none)]);
    const b = photo('b', '2024-03-01T09:00:00.000Z', [mark('n', trace([600, 450], [800, 450]))]);
    expect(growthOf(MOVED, 'forth', a, b)[0]?.change).toBeNull();
    const sized = { ...a, marks: [mark('m', trace([500, 500], [700, 500]))] };
    const change = must(growthOf(MOVED, 'forth', sized, b)[0]?.change, 'a change');
    expect(change.perYear).toBeNull();
    expect(change.per1000Hours).toBeNull();
  });
});

describe('growth of rendered cracks', () => {
  /** Size of the rendered crack on its own photo, by the true corners of the card. */
  const sizeOf = (name: string) => {
    const truth = must(
      truths().find((one) => one.name === name),
      name,
    );
    const { scale } = truth;
    if (scale?.source !== 'scale card') throw new Error(`${name} has no card`);
    const nominalMm = must(
      cardLayout(scale.layout).rulers.find(({ unit }) => unit === 'mm'),
      'ruler',
    ).length;
    const ruler = photoRuler({
      scale: {
        source: 'scale card',
        layout: scale.layout,
        markers: scale.markers.map(({ id, corners }) => ({
          id,
          corners: corners.map(([x, y]) => [x, y]) as never,
        })),
        ruler: { nominalMm, measuredMm: nominalMm },
      },
      camera: { widthPx: truth.widthPx, heightPx: truth.heightPx, focal35Mm: truth.focal35Mm, profile: null },
      surface: SURFACE_BY_ZONE,
      section: sectionFor(truth),
    });
    if (!ruler.ok) throw new Error(ruler.error.message);
    const crack = must(
      truth.defects.find(({ kind }) => kind === 'crack'),
      'crack',
    );
    const branches = must(crack.branches, 'branches').map(({ px }) => px.map(([x, y]): PointPx => [x, y]));
    const shape: Shape = { form: 'trace', branches };
    const size = ruler.value.take({ shape, slot: truth.slot, zone: truth.zone });
    if (!size.ok) throw new Error(size.error.message);
    return { shape, size: size.value, trueMm: must(crack.lengthMm, 'length') };
  };

  it.each([
    ['weld-2', 'weld-3'],
    ['weld-3', 'weld-4'],
    ['weld-2', 'weld-4'],
    ['groove-2', 'groove-3'],
    ['groove-3', 'groove-4'],
  ])('from %s to %s holds the true growth within ± 2 u and a tenth', (a, b) => {
    const [first, second] = [sizeOf(a), sizeOf(b)];
    const value = second.size.value - first.size.value;
    const u = Math.hypot(first.size.u, second.size.u);
    const truth = second.trueMm - first.trueMm;
    expect(Math.abs(value - truth)).toBeLessThan(2 * u);
    expect(Math.abs(value - truth)).toBeLessThan(0.1 * truth);
  });
});
