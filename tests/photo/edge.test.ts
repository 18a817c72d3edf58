import { describe, expect, test } from 'vitest';
import type { Problem, Result } from '../../lib/base/index.ts';
import { uniformFrom } from '../../lib/base/index.ts';
import { type EdgeSearch, type EdgeSnap, searchOf, snapAlong } from '../../lib/photo/edge.ts';
import { type Encoding, type GreyPicture, type Point, snapSpan } from '../../lib/photo/index.ts';
import { drawn, phi, quantile } from '../support/pictures.ts';

function taken<T>(result: Result<T, Problem>): T {
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return result.value;
}

const MIDDLE: Point = [30, 30];

/** A point pulled along a direction, by default to the right. */
function snapEdge(
  picture: GreyPicture,
  at: Point,
  { direction = [1, 0], ...search }: EdgeSearch & { readonly direction?: Point } = {},
): Result<EdgeSnap, Problem> {
  const whole = searchOf(picture, search);
  return whole.ok ? snapAlong(picture, at, direction, whole.value, 'at') : whole;
}

/** One straight edge, `off` px from the middle of a picture of 61 × 61 px along `normal`. */
function oneEdge(
  normal: Point,
  off: number,
  blur: number,
  noise: number,
  seed: number,
  stored: Encoding,
): GreyPicture {
  return drawn({
    widthPx: 61,
    heightPx: 61,
    noise,
    seed,
    stored,
    light: ([x, y]) => 40 + 120 * phi(((x - 30) * normal[0] + (y - 30) * normal[1] - off) / blur),
  });
}

/** Errors of 40 edges at any angle and any place within 3 px of the pick, and errors in multiples of u. */
function errorsOf(blur: number, noise: number, stored: Encoding) {
  const uniform = uniformFrom(5);
  const errors: number[] = [];
  const inU: number[] = [];
  for (let i = 0; i < 40; i += 1) {
    const angle = 2 * Math.PI * uniform();
    const normal: Point = [Math.cos(angle), Math.sin(angle)];
    const off = (uniform() - 0.5) * 6;
    const picture = oneEdge(normal, off, blur, noise, i + 1, stored);
    const snap = taken(snapEdge(picture, MIDDLE, { encoding: stored, direction: normal }));
    const error = Math.abs((snap.at[0] - MIDDLE[0]) * normal[0] + (snap.at[1] - MIDDLE[1]) * normal[1] - off);
    errors.push(error);
    inU.push(error / snap.uPx);
  }
  return { errors, inU };
}

describe('a point pulled to an edge', () => {
  // Median and 95th percentile of the error in px, worst of both encodings; contrast of 120 of 255.
  test.each([
    { blur: 0.5, noise: 0, p50: 0.005, p95: 0.015 },
    { blur: 0.7, noise: 2, p50: 0.02, p95: 0.05 },
    { blur: 1, noise: 2, p50: 0.03, p95: 0.08 },
    { blur: 1, noise: 6, p50: 0.09, p95: 0.19 },
    { blur: 2, noise: 0, p50: 0.015, p95: 0.04 },
    { blur: 2, noise: 2, p50: 0.09, p95: 0.25 },
    { blur: 2, noise: 6, p50: 0.25, p95: 0.75 },
  ])(
    'blur $blur px, noise $noise: median error below $p50 px, 95 % below $p95 px',
    ({ blur, noise, p50, p95 }) => {
      for (const stored of ['linear', 'sRGB'] as const) {
        const { errors, inU } = errorsOf(blur, noise, stored);
        expect(quantile(errors, 0.5)).toBeLessThan(p50);
        expect(quantile(errors, 0.95)).toBeLessThan(p95);
        // ±2u is meant to hold 95 %; of 40 at least 33.
        expect(inU.filter((one) => one <= 2).length).toBeGreaterThanOrEqual(33);
      }
    },
  );

  test('the uncertainty follows the noise, not only its floor', () => {
    const us = [0, 2, 8].map((noise) => {
      const snap = taken(
        snapEdge(oneEdge([1, 0], 0.3, 1.5, noise, 3, 'linear'), MIDDLE, { encoding: 'linear' }),
      );
      return snap.uPx;
    });
    expect(us[0]).toBe(0.05);
    expect(us[1]).toBeGreaterThan(0.06);
    expect(us[2]).toBeGreaterThan(2.5 * (us[1] ?? 0));
  });

  test('contrast, blur and shift of the edge are told', () => {
    const picture = oneEdge([-1, 0], 1, 1.5, 1, 3, 'linear');
    const snap = taken(snapEdge(picture, MIDDLE, { encoding: 'linear', direction: [-1, 0] }));
    expect(snap.direction).toEqual([-1, 0]);
    expect(Math.abs(snap.shiftPx - 1)).toBeLessThan(0.1);
    expect(Math.abs(snap.contrast - 120)).toBeLessThan(5);
    const towardsDark = taken(snapEdge(picture, MIDDLE, { encoding: 'linear' }));
    expect(Math.abs(towardsDark.contrast + 120)).toBeLessThan(5);
    // The pixel’s own square adds 1/12 px² to the blur of the lens.
    expect(Math.abs(snap.blurPx - Math.sqrt(1.5 ** 2 + 1 / 12))).toBeLessThan(0.1);
    expect(Math.hypot(snap.at[0] - 30, snap.at[1] - 30)).toBeCloseTo(Math.abs(snap.shiftPx), 9);
  });

  test('a photo read as if it were linear moves a blurred edge to its dark side', () => {
    const picture = drawn({
      widthPx: 61,
      heightPx: 61,
      noise: 0,
      seed: 1,
      stored: 'sRGB',
      light: ([x]) => 4 + 150 * phi((x - 30) / 2),
    });
    const [right, wrong] = (['sRGB', 'linear'] as const).map((encoding) =>
      taken(snapEdge(picture, MIDDLE, { direction: [1, 0], encoding })),
    );
    expect(Math.abs(right?.shiftPx ?? 9)).toBeLessThan(0.1);
    expect(wrong?.shiftPx).toBeLessThan(-0.8);
  });

  test('noise, an even slope and a flat picture have no edge', () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const flat = drawn({ widthPx: 61, heightPx: 61, noise: 4, seed, light: () => 120 });
      const slope = drawn({ widthPx: 61, heightPx: 61, noise: 2, seed, light: ([x]) => 60 + 2 * x });
      for (const picture of [flat, slope]) {
        const found = snapEdge(picture, MIDDLE, { direction: [1, 0], encoding: 'linear' });
        expect(found).toMatchObject({ ok: false, error: { code: 'edge-none', field: 'at' } });
      }
    }
    const even = { widthPx: 61, heightPx: 61, values: new Uint8Array(61 * 61).fill(90) };
    expect(snapEdge(even, MIDDLE, { direction: [0, 1] })).toMatchObject({
      ok: false,
      error: { code: 'edge-none' },
    });
  });

  test('both sides of `strengthMin`: an edge as strong as it was found passes, a little more is refused', () => {
    const picture = oneEdge([1, 0], 0, 1, 8, 4, 'linear');
    const search = { direction: [1, 0] as Point, encoding: 'linear' as const };
    const { strength } = taken(snapEdge(picture, MIDDLE, search));
    expect(snapEdge(picture, MIDDLE, { ...search, strengthMin: strength })).toMatchObject({ ok: true });
    const refused = snapEdge(picture, MIDDLE, { ...search, strengthMin: strength * 1.001 });
    expect(refused).toMatchObject({ ok: false, error: { code: 'edge-none' } });
  });

  test('two edges alike are refused, unless the turn of the light or the radius tells them apart', () => {
    const bar = drawn({
      widthPx: 61,
      heightPx: 61,
      noise: 1,
      seed: 2,
      light: ([x]) => 150 - 110 * (phi((x - 26.3) / 0.8) - phi((x - 33.2) / 0.8)),
    });
    const search = { direction: [1, 0] as Point, encoding: 'linear' as const };
    expect(snapEdge(bar, MIDDLE, search)).toMatchObject({ ok: false, error: { code: 'edge-two' } });
    expect(taken(snapEdge(bar, MIDDLE, { ...search, turns: 'to dark' })).at[0]).toBeCloseTo(26.3, 1);
    expect(taken(snapEdge(bar, MIDDLE, { ...search, turns: 'to light' })).at[0]).toBeCloseTo(33.2, 1);
    expect(taken(snapEdge(bar, [33, 30], { ...search, radiusPx: 4 })).at[0]).toBeCloseTo(33.2, 1);
  });

  test.each([
    [{ widthPx: 2, heightPx: 61, values: new Uint8Array(122) }, MIDDLE, {}, 'picture.widthPx'],
    [{ widthPx: 61, heightPx: 61, values: new Uint8Array(10) }, MIDDLE, {}, 'picture.values'],
    [oneEdge([1, 0], 0, 1, 0, 1, 'linear'), MIDDLE, { smoothPx: 0.5 }, 'smoothPx'],
    [oneEdge([1, 0], 0, 1, 0, 1, 'linear'), [0, 30], { direction: [0, 1] }, 'at'],
  ] as const)('bad input %# is refused by the name of its field', (picture, at, search, field) => {
    const found = snapEdge(picture, at, search);
    expect(found).toMatchObject({ ok: false, error: { field } });
    expect(!found.ok && found.error.wayOut.length).toBeGreaterThan(0);
  });
});

describe('a span pulled to edges', () => {
  /** A dark gap of `width` px whose middle lies at 40.2, at an angle. */
  const gap = (width: number, seed: number) =>
    drawn({
      widthPx: 81,
      heightPx: 61,
      noise: 2,
      seed,
      stored: 'sRGB',
      light: ([x, y]) => {
        const across = (x - 40.2) * Math.cos(0.2) + (y - 30) * Math.sin(0.2);
        return 120 - 112 * (phi((across + width / 2) / 0.9) - phi((across - width / 2) / 0.9));
      },
    });
  const ends = (half: number): [Point, Point] => [
    [40.2 - half * Math.cos(0.2), 30 - half * Math.sin(0.2)],
    [40.2 + half * Math.cos(0.2), 30 + half * Math.sin(0.2)],
  ];

  test('a gap of 24.6 px picked some px off is found to within 0.1 px and 2u', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const span = taken(snapSpan(gap(24.6, seed), ends(10 + seed / 5), { between: 'darker' }));
      expect(Math.abs(span.lengthPx - 24.6)).toBeLessThan(0.1);
      expect(Math.abs(span.lengthPx - 24.6)).toBeLessThan(2 * span.uPx);
      const [a, b] = span.ends;
      expect(Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1])).toBeCloseTo(span.lengthPx, 6);
    }
  });

  test('a span that is said to be lighter inside does not take the edges of a dark gap', () => {
    const found = snapSpan(gap(24.6, 1), ends(12), { between: 'lighter' });
    expect(found).toMatchObject({ ok: false, error: { field: 'span[0]' } });
  });

  test('8 px is the shortest span, and an end off the picture is named', () => {
    expect(snapSpan(gap(8, 1), ends(3.999))).toMatchObject({ ok: false, error: { code: 'span-short' } });
    expect(snapSpan(gap(8, 1), ends(4.0001), { between: 'darker' })).toMatchObject({ ok: true });
    expect(
      snapSpan(
        gap(8, 1),
        [
          [30, 30],
          [99, 30],
        ],
        { radiusPx: 12 },
      ),
    ).toMatchObject({ ok: false, error: { field: 'span[1]' } });
  });
});
