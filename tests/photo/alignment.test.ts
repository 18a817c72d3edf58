import { describe, expect, it } from 'vitest';
import { must } from '../../lib/base/index.ts';
import {
  alignByPoints,
  correlation,
  type Homography,
  inverseOf,
  isKnownAt,
  mapBack,
  mapPoint,
  mapThrough,
  netThrough,
  overlapOf,
  type PhotoMap,
  type Point,
  warped,
} from '../../lib/photo/index.ts';
import { caseOf } from '../support/cases.ts';

const SIZE = { widthPx: 1600, heightPx: 1200 };
const TILTED: Homography = [1.05, 0.08, -40, -0.06, 0.97, 25, 2e-5, -3e-5, 1];
const CORNERS: Point[] = [
  [200, 150],
  [1400, 180],
  [1350, 1000],
  [240, 1050],
];
const pairsOf = (points: readonly Point[], h: Homography = TILTED) =>
  points.map((from) => ({ from, to: mapPoint(h, from) }));

describe('two photos laid over each other by hand', () => {
  it('takes every point where the homography through four pairs says', () => {
    const laid = alignByPoints(SIZE, SIZE, pairsOf(CORNERS));
    if (!laid.ok) throw new Error(laid.error.message);
    expect(laid.value.method).toBe('four points');
    expect(laid.value.medianPx).toBeNull();
    const [x, y] = mapThrough(laid.value.map, [800, 600]);
    const [u, v] = mapPoint(TILTED, [800, 600]);
    expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-6);
  });

  it('takes three pairs as an affine map, exact at each of them', () => {
    const pairs = pairsOf(CORNERS.slice(0, 3));
    const laid = alignByPoints(SIZE, SIZE, pairs);
    if (!laid.ok) throw new Error(laid.error.message);
    expect(laid.value.method).toBe('three points');
    for (const { from, to } of pairs) {
      const [x, y] = mapThrough(laid.value.map, from);
      expect(Math.hypot(x - to[0], y - to[1])).toBeLessThan(1e-8);
    }
  });

  it('tells how far a pair that is off by 30 px is missed when there are more than four', () => {
    const pairs = pairsOf([...CORNERS, [800, 600], [600, 400]]);
    const exact = alignByPoints(SIZE, SIZE, pairs);
    const off = alignByPoints(
      SIZE,
      SIZE,
      pairs.map((pair, i) => (i === 4 ? { ...pair, to: [pair.to[0] + 30, pair.to[1]] as const } : pair)),
    );
    if (!exact.ok || !off.ok) throw new Error('not laid');
    expect(exact.value.p95Px).toBeLessThan(1e-6);
    expect(off.value.p95Px).toBeGreaterThan(15);
  });

  it('tells nothing by four points of which three lie on one line, as corners and the middle leave them', () => {
    const corners: Point[] = [
      [100, 100],
      [1500, 100],
      [1500, 1100],
      [100, 1100],
    ];
    const shaken = pairsOf([...corners, [800, 600]]).map(({ from, to }, i) => ({
      from,
      to: [to[0] + (i % 2 === 0 ? 2 : -2), to[1] + (i % 3) - 1] as const,
    }));
    const laid = alignByPoints(SIZE, SIZE, shaken);
    if (!laid.ok) throw new Error(laid.error.message);
    // Only the one without the middle tells: a hand’s tremor, not thousands of px.
    expect(laid.value.p95Px).toBeLessThan(6);
  });

  it.each<[string, readonly Point[], Homography]>([
    ['two pairs', CORNERS.slice(0, 2), TILTED],
    [
      'three points on one line',
      [
        [100, 100],
        [500, 300],
        [900, 500],
      ],
      TILTED,
    ],
    [
      'three of four points on one line',
      [
        [100, 100],
        [500, 300],
        [900, 500],
        [300, 900],
      ],
      TILTED,
    ],
    ['a mirrored photo', CORNERS, [-1, 0, 1600, 0, 1, 0, 0, 0, 1]],
    ['a photo made ten times larger', CORNERS, [10, 0, 0, 0, 10, 0, 0, 0, 1]],
  ])('refuses %s with a way out', (_, points, h) => {
    const laid = alignByPoints(SIZE, SIZE, pairsOf(points, h));
    expect(laid.ok).toBe(false);
    if (!laid.ok) expect(laid.error.wayOut).toMatch(/[Pp]ick/);
  });
});

describe('a map with a net', () => {
  const places = Array.from(
    { length: 300 },
    (_, i): Point => [(i % 20) * 80 + 40, Math.floor(i / 20) * 80 + 40],
  );
  const bend = ([x, y]: Point): Point => [12 * Math.sin(x / 500), 20 * ((y - 600) / 600) ** 2];
  const net = netThrough(
    SIZE,
    places.map((at) => ({ at, overPx: bend(at), weight: [1, 0, 1] })),
  );
  const map: PhotoMap = { from: SIZE, to: SIZE, homography: TILTED, net };

  it('follows a smooth bend that no plane shows to within half a pixel', () => {
    for (const at of places.filter(([x, y]) => x > 100 && x < 1500 && y > 100 && y < 1100)) {
      const [x, y] = mapThrough(map, at);
      const [[u, v], [dx, dy]] = [mapPoint(TILTED, at), bend(at)];
      expect(Math.hypot(x - u - dx, y - v - dy)).toBeLessThan(0.5);
    }
  });

  it('goes back to where it came from', () => {
    for (const at of places) {
      const [x, y] = must(mapBack(map, mapThrough(map, at)), 'way back');
      expect(Math.hypot(x - at[0], y - at[1])).toBeLessThan(0.05);
    }
  });

  it('says nothing where nothing was seen', () => {
    const half = netThrough(
      SIZE,
      places.filter(([x]) => x < 600).map((at) => ({ at, overPx: bend(at), weight: [1, 0, 1] })),
    );
    expect(isKnownAt({ ...map, net: half }, [300, 600])).toBe(true);
    expect(isKnownAt({ ...map, net: half }, [1200, 600])).toBe(false);
  });

  it('along an edge takes over only what was seen across it', () => {
    const across = netThrough(
      SIZE,
      places.map((at) => ({ at, overPx: [50, 7], weight: [0, 0, 1] })),
    );
    const [x, y] = must(across.shiftsPx[110], 'node');
    expect(Math.abs(x)).toBeLessThan(1);
    expect(y).toBeCloseTo(7, 1);
  });
});

describe('laying a picture over another', () => {
  it('shows each pixel where the map says, between pixels by bilinear interpolation', () => {
    const values = Uint8Array.from({ length: 64 * 48 }, (_, i) => (i % 64) * 3 + Math.floor(i / 64));
    const size = { widthPx: 64, heightPx: 48 };
    const shift: PhotoMap = { from: size, to: size, homography: [1, 0, 4.5, 0, 1, 2, 0, 0, 1], net: null };
    const { raster, inside } = warped({ ...size, channels: 1, values }, shift);
    expect(raster.values[10 * 64 + 20]).toBeCloseTo(24.5 * 3 + 12, -0.3);
    expect(inside[10 * 64 + 20]).toBe(1);
    expect(inside[10 * 64 + 62]).toBe(0);
  });

  it('overlaps by the share that both show', () => {
    const half: PhotoMap = { from: SIZE, to: SIZE, homography: [1, 0, 800, 0, 1, 0, 0, 0, 1], net: null };
    expect(overlapOf(half)).toBeCloseTo(0.5, 2);
    const [x, y] = mapPoint(inverseOf(TILTED), mapPoint(TILTED, [321, 654]));
    expect([x, y]).toEqual([expect.closeTo(321, 6), expect.closeTo(654, 6)]);
  });
});

describe('correlation of two pictures', () => {
  it('is that of case G-08: not changed by gain and offset, −1 for a negative, 0.5926 shifted by a column', () => {
    const X = caseOf('G-06').inputs.X as number[][];
    const Y = X.map((row, y) => row.map((value, x) => value + ((x + y) % 2 === 0 ? 5 : -5)));
    const expected = (caseOf('G-08').recomputed as { rho: number[] }).rho;
    const flat = X.flat();
    const found = [
      correlation(
        flat,
        flat.map((x) => 1.3 * x + 20),
      ),
      correlation(
        flat,
        flat.map((x) => 255 - x),
      ),
      correlation(flat, Y.flat()),
      correlation(
        X.flatMap((row) => row.slice(0, 7)),
        X.flatMap((row) => row.slice(1)),
      ),
    ];
    found.forEach((rho, i) => {
      expect(rho).toBeCloseTo(must(expected[i], 'expected'), 7);
    });
  });

  it('of something even is 0', () => {
    expect(correlation([5, 5, 5], [1, 2, 3])).toBe(0);
  });
});
