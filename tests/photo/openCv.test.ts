import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import {
  type CalibrationShot,
  type CameraFit,
  cameraOfPhoto,
  fitCamera,
  focal35Of,
  homographyFrom,
  type Lens,
  locatePoints,
  mapPoint,
  type Point,
  profileForPhoto,
  profileOfCamera,
  project,
  shotOfCard,
  undistorted,
} from '../../lib/photo/index.ts';
import { CameraProfile } from '../../lib/record/index.ts';

/** Outside reference for everything in this file: OpenCV 4.6.0, asked by tests/fixtures/camera/make.py. */
interface Camera extends Lens {
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
}
type Three = [number, number, number];
interface PoseAnswer {
  axes: [Three, Three, Three];
  origin: Three;
}
interface Fixture {
  source: string;
  cardMm: Point[];
  calibrate: {
    camera: Camera;
    shots: Point[][];
    opencv: Lens & {
      rmsPx: number;
      eachPx: number[];
      spread: { fy: number; cx: number; cy: number; k1: number; k2: number };
      origins: Three[];
    };
  }[];
  undistort: { camera: Camera; px: Point[]; ideal: Point[] }[];
  project: { camera: Camera; points: Three[]; px: Point[] }[];
  pose: { camera: Camera; noisePx: number; px: Point[]; iterative: PoseAnswer; ippe: PoseAnswer }[];
  homography: { noisePx: number; mm: Point[]; px: Point[]; probeMm: Point[]; mappedPx: Point[] }[];
}
const fixture: Fixture = JSON.parse(
  readFileSync(new URL('../fixtures/camera/camera.json', import.meta.url), 'utf8'),
);

const shotsOf = ({ camera, shots }: Fixture['calibrate'][number]): CalibrationShot[] =>
  shots.map((px, i) => ({
    name: `photo ${i + 1}`,
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    focal35Mm: null,
    mm: fixture.cardMm,
    px,
  }));
const caseAt = (i: number) => must(fixture.calibrate[i], `case ${i}`);
function fitted(shots: readonly CalibrationShot[]): CameraFit {
  const fit = fitCamera(shots);
  if (!fit.ok) throw new Error(JSON.stringify(fit.error));
  return fit.value;
}
const refusal = (shots: readonly CalibrationShot[]) => {
  const fit = fitCamera(shots);
  return fit.ok ? null : fit.error;
};

test('the reference answers are of the version that is named', () => {
  expect(fixture.source).toBe('OpenCV 4.6.0');
  expect(fixture.calibrate).toHaveLength(4);
});

describe.each(fixture.calibrate)('a camera fitted from shots of the rim card, $camera.name', (one) => {
  const { camera, opencv } = one;
  const fit = fitted(shotsOf(one));

  test('equals calibrateCamera (fixed aspect, no tangential terms, no k3)', () => {
    // Both end at the same least squares: one part in 10⁸, and 10⁻⁵ px for the centre.
    expect(fit.lens.focalPx / opencv.focalPx).toBeCloseTo(1, 8);
    expect(fit.lens.centrePx[0]).toBeCloseTo(opencv.centrePx[0], 5);
    expect(fit.lens.centrePx[1]).toBeCloseTo(opencv.centrePx[1], 5);
    expect(fit.lens.k1).toBeCloseTo(opencv.k1, 7);
    expect(fit.lens.k2).toBeCloseTo(opencv.k2, 7);
    expect(fit.residualPx).toBeCloseTo(opencv.rmsPx, 8);
    fit.shots.forEach((shot, i) => {
      expect(shot.residualPx).toBeCloseTo(must(opencv.eachPx[i], 'residual'), 5);
      shot.pose.origin.forEach((mm, k) => {
        expect(mm).toBeCloseTo(must(opencv.origins[i]?.[k], 'origin'), 4);
      });
    });
  });

  test('has the uncertainties of calibrateCamera, counting both coordinates of a corner', () => {
    // OpenCV 4.6.0 divides by corners less unknowns; each corner brings two coordinates.
    const corners = fixture.cardMm.length * one.shots.length;
    const unknowns = 5 + 6 * one.shots.length;
    const counted = Math.sqrt((corners - unknowns) / (2 * corners - unknowns));
    const { fromCorners } = fit;
    expect(fromCorners.focalShare / ((opencv.spread.fy / opencv.focalPx) * counted)).toBeCloseTo(1, 4);
    expect(fromCorners.centrePx[0] / (opencv.spread.cx * counted)).toBeCloseTo(1, 4);
    expect(fromCorners.centrePx[1] / (opencv.spread.cy * counted)).toBeCloseTo(1, 4);
    expect(fromCorners.k1 / (opencv.spread.k1 * counted)).toBeCloseTo(1, 4);
    expect(fromCorners.k2 / (opencv.spread.k2 * counted)).toBeCloseTo(1, 4);
    expect(fit.focalShareU).toBeGreaterThan(fromCorners.focalShare);
  });

  test('covers the true camera within three times the uncertainty from the corners alone', () => {
    const { fromCorners } = fit;
    expect(Math.abs(fit.lens.focalPx / camera.focalPx - 1)).toBeLessThan(3 * fromCorners.focalShare);
    expect(Math.abs(fit.lens.k1 - camera.k1)).toBeLessThan(3 * fromCorners.k1);
    expect(Math.abs(fit.lens.k2 - camera.k2)).toBeLessThan(3 * fromCorners.k2);
    for (const k of [0, 1] as const) {
      expect(Math.abs(fit.lens.centrePx[k] - camera.centrePx[k])).toBeLessThan(3 * fromCorners.centrePx[k]);
    }
    expect(fromCorners.focalShare).toBeLessThan(0.003);
  });

  test('makes a profile that the record takes and that photos of other sizes are carried over from', () => {
    const profile = profileOfCamera(fit, 'Phone 7, main camera');
    expect(CameraProfile.parse(profile)).toEqual(profile);
    expect(profile.focalShareU).toBeGreaterThan(0.005);
    const half = cameraOfPhoto({
      widthPx: camera.widthPx / 2,
      heightPx: camera.heightPx / 2,
      focal35Mm: 26,
      profile,
    });
    expect(half.source).toBe('camera profile');
    expect(half.lens.focalPx).toBeCloseTo(fit.lens.focalPx / 2, 6);
  });
});

describe('a card as it is found', () => {
  const corners = (id: number): Point[] => [0, 1, 2, 3].map((k): Point => [100 * id + k, 200 * id - k]);

  test('gives the corners of its own markers, those of other cards left out', () => {
    const shot = shotOfCard(
      'one',
      { widthPx: 4000, heightPx: 3000, focal35Mm: 26 },
      {
        layout: 'rim card',
        markers: [2, 0, 5].map((id) => ({ id, corners: corners(id) })),
      },
    );
    expect(shot).toMatchObject({ name: 'one', widthPx: 4000, heightPx: 3000, focal35Mm: 26 });
    expect(shot.px).toEqual([...corners(2), ...corners(0)]);
    expect(shot.mm).toEqual([...fixture.cardMm.slice(8, 12), ...fixture.cardMm.slice(0, 4)]);
  });
});

describe('a stored profile', () => {
  const profile = profileOfCamera(fitted(shotsOf(caseAt(0))), 'Phone 7');
  // 3010 px on the 5000 px diagonal of 4000 × 3000: 26.05 mm on film.
  test('is of 26 mm in terms of film', () => {
    expect(focal35Of(profile)).toBeCloseTo((3010 / 5000) * Math.hypot(36, 24), 1);
  });

  test.each([
    [4000, 3000, 26, true],
    [3000, 4000, 26, true],
    [2000, 1500, 25, true],
    [4000, 3000, 24, false],
    [4000, 3000, null, false],
    [4000, 3000, 13, false],
    [4000, 3000, 28, false],
    [4000, 2250, 26, false],
    [3024, 3024, 26, false],
  ])('serves a photo of %s × %s px that states %s mm: %s', (widthPx, heightPx, focal35Mm, serves) => {
    expect(profileForPhoto(profile, { widthPx, heightPx, focal35Mm })).toEqual(serves ? profile : null);
    expect(profileForPhoto(null, { widthPx, heightPx, focal35Mm })).toBeNull();
  });
});

test('how far the cards reached is counted from the centre of the lens', () => {
  const one = caseAt(0);
  const { reachShare, lens } = fitted(shotsOf(one));
  const farthest = Math.max(
    ...one.shots.flat().map(([x, y]) => Math.hypot(x - lens.centrePx[0], y - lens.centrePx[1])),
  );
  expect(reachShare).toBeCloseTo(farthest / 2500, 9);
  expect(reachShare).toBeGreaterThan(0.7);
});

describe('the uncertainty of a print that stretches one side', () => {
  test('covers a card printed 0.1 % longer one way', () => {
    const one = caseAt(0);
    const fit = fitted(shotsOf(one));
    const printed = shotsOf(one).map((shot) => ({
      ...shot,
      mm: shot.mm.map(([x, y]): Point => [x * 1.001, y * 0.999]),
    }));
    const other = fitted(printed);
    const shift = Math.abs(Math.log(other.lens.focalPx / fit.lens.focalPx));
    expect(shift).toBeGreaterThan(3e-4);
    expect(shift).toBeCloseTo(fit.fromPrint.focalShare, 7);
  });
});

describe('shots that do not make a camera are refused', () => {
  const good = shotsOf(caseAt(0));
  const noisy = (shot: CalibrationShot, offPx: number): CalibrationShot => ({
    ...shot,
    px: shot.px.map(([x, y], i): Point => [x + offPx * Math.sin(7 * i), y + offPx * Math.cos(11 * i)]),
  });

  test('three are too few, four are enough', () => {
    expect(refusal(good.slice(0, 3))).toMatchObject({ code: 'calibration-few', field: 'photos', value: '3' });
    expect(refusal([])).toMatchObject({ code: 'calibration-few' });
    expect(refusal(good.slice(0, 4))).toBeNull();
  });

  test('sixteen are taken, more are too many', () => {
    const more = (count: number) =>
      Array.from({ length: count }, (_, i) => noisy(must(good[i % good.length], 'shot'), 0.05));
    expect(refusal(more(16))).toBeNull();
    expect(refusal(more(17))).toMatchObject({ code: 'calibration-many', value: '17' });
  });

  test('that state other focal lengths, but not for the rounding of one lens', () => {
    const stating = (...focals: (number | null)[]) =>
      refusal(good.map((shot, i) => ({ ...shot, focal35Mm: focals[i % focals.length] ?? null })));
    expect(stating(13, 26)).toMatchObject({ code: 'calibration-lens', value: '13 mm, 26 mm' });
    expect(stating(26, null)).toBeNull();
    expect(stating(23, 24)).toBeNull();
    expect(stating(24, 26)).toMatchObject({ code: 'calibration-lens' });
  });

  test('of different sizes, naming both', () => {
    const [first, ...others] = good;
    const turned = { ...must(first, 'shot'), widthPx: 3000, heightPx: 4000 };
    expect(refusal([...others, turned])).toMatchObject({
      code: 'calibration-sizes',
      value: 'photo 2: 4000 × 3000 px, photo 1: 3000 × 4000 px',
    });
  });

  test('with one marker alone, or with corners on one line, naming the photo', () => {
    const [first, ...others] = good as [CalibrationShot, ...CalibrationShot[]];
    const few = { ...first, mm: first.mm.slice(0, 4), px: first.px.slice(0, 4) };
    expect(refusal([...others, few])).toMatchObject({
      code: 'calibration-corners',
      field: 'photos, photo 1',
      value: '4 corners',
    });
    const line = { ...first, px: first.px.map((_, i): Point => [100 + 50 * i, 200 + 30 * i]) };
    expect(refusal([...others, line])).toMatchObject({
      code: 'calibration-line',
      field: 'photos, photo 1',
    });
  });

  test('from one direction, however many', () => {
    const same = Array.from({ length: 6 }, (_, i) => noisy(must(good[1], 'shot'), 0.05 * i));
    expect(refusal(same)).toMatchObject({ code: 'calibration-direction', field: 'photos' });
    const square = Array.from({ length: 6 }, (_, i): CalibrationShot => {
      const px = fixture.cardMm.map(
        ([x, y]): Point => [900 + 60 * i + (12 + i) * x, 700 + 40 * i + (12 + i) * y],
      );
      return { ...must(good[0], 'shot'), px };
    });
    expect(refusal(square.map((shot) => noisy(shot, 0.2)))).toMatchObject({ code: 'calibration-direction' });
  });

  test('that contradict each other, naming the one that is off', () => {
    const [first, ...others] = good as [CalibrationShot, ...CalibrationShot[]];
    expect(refusal([noisy(first, 8), ...others])).toMatchObject({
      code: 'calibration-misfit',
      field: 'photos, photo 1',
    });
    expect(refusal(good.map((shot) => noisy(shot, 6)))).toMatchObject({
      code: 'calibration-misfit',
      field: 'photos',
    });
  });

  test('with the card so small that the lens is left open', () => {
    const long = caseAt(2);
    const far = shotsOf(long).map((shot) =>
      noisy(
        { ...shot, px: shot.px.map(([x, y]): Point => [1500 + (x - 1500) / 8, 2000 + (y - 2000) / 8]) },
        0.3,
      ),
    );
    expect(refusal(far)).toMatchObject({ code: 'calibration-open', field: 'photos' });
  });
});

describe('the camera model', () => {
  test.each(fixture.undistort)('undoes distortion as undistortPointsIter, $camera.name', (one) => {
    one.px.forEach((point, i) => {
      const [u, v] = undistorted(one.camera, point);
      expect(u).toBeCloseTo(must(one.ideal[i], 'point')[0], 9);
      expect(v).toBeCloseTo(must(one.ideal[i], 'point')[1], 9);
    });
  });

  test.each(fixture.project)('pictures points as projectPoints, $camera.name', (one) => {
    one.points.forEach((point, i) => {
      const [x, y] = project(one.camera, point);
      expect(x).toBeCloseTo(must(one.px[i], 'point')[0], 7);
      expect(y).toBeCloseTo(must(one.px[i], 'point')[1], 7);
    });
  });
});

describe.each(fixture.pose)('a card located by a camera known for certain, $noisePx px of noise', (one) => {
  const CERTAIN = 1e-9;
  const found = locatePoints(
    {
      mm: fixture.cardMm.map(([x, y]): Point => [x - 80, y - 50]),
      px: one.px,
      pointU: Math.max(0.01, one.noisePx),
      learnSpread: false,
      sizeShareU: CERTAIN,
      aspectShareU: CERTAIN,
      patchMm: null,
    },
    { source: 'camera profile', lens: one.camera, focalShareU: CERTAIN, k1U: CERTAIN },
  );
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  const { frame } = found.value.viewOf(found.value.estimate.values);
  const off = ({ axes, origin }: PoseAnswer) => ({
    // Columns of the rotation are the card’s axes in the camera.
    turnRad: Math.max(
      ...[0, 1, 2].flatMap((k) => [
        Math.abs((frame.x[k] ?? 0) - must(axes[k]?.[0], 'x')),
        Math.abs((frame.y[k] ?? 0) - must(axes[k]?.[1], 'y')),
      ]),
    ),
    originMm: Math.max(...[0, 1, 2].map((k) => Math.abs((frame.origin[k] ?? 0) - must(origin[k], 'origin')))),
  });

  test('lies where solvePnP (iterative) puts it', () => {
    const { turnRad, originMm } = off(one.iterative);
    expect(turnRad).toBeLessThan(1e-5);
    expect(originMm).toBeLessThan(0.005);
  });

  test('lies where solvePnP (IPPE) puts it', () => {
    // IPPE is a closed form and no least squares: with noise it ends near by.
    const { turnRad, originMm } = off(one.ippe);
    expect(turnRad).toBeLessThan(one.noisePx === 0 ? 1e-5 : 3e-3);
    expect(originMm).toBeLessThan(one.noisePx === 0 ? 0.005 : 1);
  });
});

test.each(fixture.homography)(
  'a homography of $mm.length points with $noisePx px of noise maps as findHomography',
  (one) => {
    const h = homographyFrom(one.mm, one.px);
    if (!h.ok) throw new Error(JSON.stringify(h.error));
    one.probeMm.forEach((point, i) => {
      const [x, y] = mapPoint(h.value, point);
      const [wantedX, wantedY] = must(one.mappedPx[i], 'point');
      // OpenCV refines the linear answer; with noise of 0.3 px the two lie within a tenth of a pixel.
      const tolerance = one.noisePx === 0 ? 1e-4 : 0.1;
      expect(Math.hypot(x - wantedX, y - wantedY)).toBeLessThan(tolerance);
    });
  },
);
