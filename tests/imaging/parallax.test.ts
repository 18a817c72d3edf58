import { describe, expect, it } from 'vitest';
import { Chance, quantile } from '../../bench/support/truth.ts';
import { epipolarThrough } from '../../lib/imaging/vision/epipolar.ts';
import type { Looked } from '../../lib/imaging/vision/features.ts';
import type { Match } from '../../lib/imaging/vision/matches.ts';
import { FROM_FAR, FROM_NEAR, followSteps } from '../../lib/imaging/vision/parallax.ts';
import { isKnownAt, mapThrough, type PhotoMap, type Point } from '../../lib/photo/index.ts';

/** Two pinhole cameras of 1000 px focal length, the second moved and turned; textbook projection, nothing of ours. */
const FOCAL = 1000;
const MIDDLE: Point = [320, 240];
const TURN = -0.12;
const SHIFT = [90, 12, 18] as const;
type P3 = readonly [number, number, number];
const pixel = ([x, y, z]: P3): Point => [MIDDLE[0] + (FOCAL * x) / z, MIDDLE[1] + (FOCAL * y) / z];
const inSecond = ([x, y, z]: P3): P3 => [
  Math.cos(TURN) * x + Math.sin(TURN) * z + SHIFT[0],
  y + SHIFT[1],
  -Math.sin(TURN) * x + Math.cos(TURN) * z + SHIFT[2],
];
const matchOf = (from: Point, to: Point): Match => ({ from, to, weight: [1, 0, 1] });

describe('lines on which the second photo must show a point', () => {
  const chance = new Chance(5);
  const points = Array.from(
    { length: 200 },
    (): P3 => [chance.uniform(-150, 150), chance.uniform(-110, 110), chance.uniform(400, 700)],
  );
  const exact = points.map((point) => matchOf(pixel(point), pixel(inSecond(point))));

  it('pass through the true places of points that were not among the matches', () => {
    const found = epipolarThrough(exact);
    if (found === null) throw new Error('no lines');
    for (const point of [
      [40, -60, 450],
      [-100, 80, 690],
      [0, 0, 520],
    ] as const) {
      const [a, b, c] = found.lineOf(pixel(point));
      const [x, y] = pixel(inSecond(point));
      expect(Math.hypot(a, b)).toBeCloseTo(1, 9);
      expect(Math.abs(a * x + b * y + c)).toBeLessThan(1e-6);
    }
  });

  it('are found among a third of strays and half a pixel of noise', () => {
    const noisy = exact.map(({ from, to }, i) =>
      i % 3 === 0
        ? matchOf(from, [chance.uniform(0, 640), chance.uniform(0, 480)])
        : matchOf(from, [to[0] + chance.normal(0.5), to[1] + chance.normal(0.5)]),
    );
    const found = epipolarThrough(noisy);
    if (found === null) throw new Error('no lines');
    const off = points.map((point) => {
      const [a, b, c] = found.lineOf(pixel(point));
      const [x, y] = pixel(inSecond(point));
      return Math.abs(a * x + b * y + c);
    });
    expect(quantile(off, 0.5)).toBeLessThan(0.4);
    expect(quantile(off, 0.95)).toBeLessThan(2);
  });

  it('are not there for matches that have nothing to do with each other', () => {
    const strays = exact.map(({ from }) => matchOf(from, [chance.uniform(0, 640), chance.uniform(0, 480)]));
    expect(epipolarThrough(strays)).toBeNull();
  });

  it('are not there for fewer than sixteen matches', () => {
    expect(epipolarThrough(exact.slice(0, 15))).toBeNull();
  });
});

describe('steps that a smooth map does not follow', () => {
  /** A wall 600 mm away, before it on the left another at 400 mm; each with a texture of its own, cells of 3 mm. */
  const NEAR = 400;
  const FAR = 600;
  const EDGE_MM = -10;
  const spots = (seed: number) => {
    const chance = new Chance(seed);
    return Float32Array.from({ length: 400 * 400 }, () => chance.uniform(20, 235));
  };
  const [near, far] = [spots(1), spots(2)];
  const at = (texture: Float32Array, x: number, y: number) => {
    const [u, v] = [(x + 600) / 3, (y + 600) / 3];
    const [i, k] = [Math.floor(u), Math.floor(v)];
    const [p, q] = [u - i, v - k];
    const value = (a: number, b: number) => texture[b * 400 + a] ?? 0;
    return (
      (value(i, k) * (1 - p) + value(i + 1, k) * p) * (1 - q) +
      (value(i, k + 1) * (1 - p) + value(i + 1, k + 1) * p) * q
    );
  };
  /** What a ray from a camera meets: the near wall left of its edge, else the far one. */
  const met = (eye: P3, way: P3): P3 => {
    const to = (z: number): P3 => {
      const t = (z - eye[2]) / way[2];
      return [eye[0] + t * way[0], eye[1] + t * way[1], z];
    };
    const first = to(NEAR);
    return first[0] < EDGE_MM ? first : to(FAR);
  };
  const [width, height] = [640, 480];
  const turnedBack = ([x, y, z]: P3): P3 => [
    Math.cos(TURN) * x - Math.sin(TURN) * z,
    y,
    Math.sin(TURN) * x + Math.cos(TURN) * z,
  ];
  const secondEye = turnedBack([-SHIFT[0], -SHIFT[1], -SHIFT[2]]);
  const taken = (eye: P3, turn: (way: P3) => P3): Looked => {
    const values = new Uint8Array(width * height);
    for (let y = 0; y < height; y += 1)
      for (let x = 0; x < width; x += 1) {
        const spot = met(eye, turn([(x - MIDDLE[0]) / FOCAL, (y - MIDDLE[1]) / FOCAL, 1]));
        values[y * width + x] = at(spot[2] === NEAR ? near : far, spot[0], spot[1]);
      }
    return {
      picture: { widthPx: width, heightPx: height, values },
      factor: 1,
      features: [],
      descriptors: null as never,
      usable: new Uint8Array(width * height).fill(255),
      forget: () => undefined,
    };
  };
  const first = taken([0, 0, 0], (way) => way);
  const second = taken(secondEye, turnedBack);

  /** Where the second photo shows what the first one shows at a pixel; null where the near wall hides it. */
  const truth = (px: Point): Point | null => {
    const spot = met([0, 0, 0], [(px[0] - MIDDLE[0]) / FOCAL, (px[1] - MIDDLE[1]) / FOCAL, 1]);
    const way: P3 = [spot[0] - secondEye[0], spot[1] - secondEye[1], spot[2] - secondEye[2]];
    const again = met(secondEye, way);
    return again[2] === spot[2] ? pixel(inSecond(spot)) : null;
  };
  const size = { widthPx: width, heightPx: height };
  /** The far wall alone, as a plane would have it: on the near one it is off by the parallax. */
  const grid = Array.from(
    { length: 300 },
    (_, i): Point => [20 + (i % 20) * 31, 20 + Math.floor(i / 20) * 30],
  );
  const matches = grid.flatMap((from) => {
    const to = truth(from);
    return to === null ? [] : [matchOf(from, to)];
  });
  const wallHomography = (): PhotoMap => {
    // Of a plane z = FAR: R + t·n⊤/FAR in camera terms, between the two matrices of the cameras.
    const [c, s] = [Math.cos(TURN), Math.sin(TURN)];
    const h = [
      [c, 0, s + SHIFT[0] / FAR],
      [0, 1, SHIFT[1] / FAR],
      [-s, 0, c + SHIFT[2] / FAR],
    ];
    const row = (k: 0 | 1 | 2) => h[k] as [number, number, number];
    const lifted = [0, 1, 2].map(
      (j) =>
        [
          FOCAL * (row(0)[j] ?? 0) + MIDDLE[0] * (row(2)[j] ?? 0),
          FOCAL * (row(1)[j] ?? 0) + MIDDLE[1] * (row(2)[j] ?? 0),
          row(2)[j] ?? 0,
        ] as const,
    );
    const columns = [
      lifted[0]?.map((v) => v / FOCAL) ?? [],
      lifted[1]?.map((v) => v / FOCAL) ?? [],
      [0, 1, 2].map(
        (k) =>
          (lifted[2]?.[k] ?? 0) -
          ((lifted[0]?.[k] ?? 0) * MIDDLE[0]) / FOCAL -
          ((lifted[1]?.[k] ?? 0) * MIDDLE[1]) / FOCAL,
      ),
    ];
    const values = [0, 1, 2].flatMap((k) => columns.map((column) => column[k] ?? 0));
    return { from: size, to: size, homography: values as never, net: null };
  };

  it('are followed on either side of their edge', () => {
    const rough = wallHomography();
    const misses = (map: PhotoMap, wall: number) =>
      grid.flatMap((from) => {
        const to = truth(from);
        const spot = met([0, 0, 0], [(from[0] - MIDDLE[0]) / FOCAL, (from[1] - MIDDLE[1]) / FOCAL, 1]);
        if (to === null || spot[2] !== wall || !isKnownAt(map, from)) return [];
        const [x, y] = mapThrough(map, from);
        return [Math.hypot(x - to[0], y - to[1])];
      });
    expect(quantile(misses(rough, FAR), 0.9)).toBeLessThan(1e-6);
    expect(quantile(misses(rough, NEAR), 0.5)).toBeGreaterThan(20);
    const lines = epipolarThrough(matches);
    if (lines === null) throw new Error('no lines');
    const map = followSteps(first, second, rough, lines, [...FROM_FAR, ...FROM_NEAR]);
    for (const wall of [NEAR, FAR]) {
      const off = misses(map, wall);
      expect(off.length).toBeGreaterThan(60);
      expect(quantile(off, 0.5)).toBeLessThan(0.5);
      // Beside the edge, which windows and nodes straddle, a quarter or so may be off.
      expect(quantile(off, 0.75)).toBeLessThan(1.5);
    }
  });

  it('says nothing where both photos show bare metal', () => {
    const bare = (one: Looked): Looked => ({
      ...one,
      picture: { ...one.picture, values: new Uint8Array(width * height).fill(128) },
    });
    const lines = epipolarThrough(matches);
    if (lines === null) throw new Error('no lines');
    const map = followSteps(bare(first), bare(second), wallHomography(), lines, FROM_FAR);
    expect(map.net?.known.some(Boolean)).toBe(false);
  });
});
