import { describe, expect, test } from 'vitest';
import { uniformFrom } from '../../lib/base/index.ts';
import { crackOpening, type GreyPicture, type Opening, type Point } from '../../lib/photo/index.ts';
import { drawn, phi, quantile } from '../support/pictures.ts';
import { sampleGrey, sampleTruths } from '../support/samples.ts';

interface Line {
  readonly picture: GreyPicture;
  readonly trace: readonly Point[];
}

/**
 * A dark line of `width` px at an angle on a background that slopes both ways and has a step of 12 across the line;
 * stored as a photo is. The trace runs up to 1.5 px beside it.
 */
function line(width: number, blur: number, noise: number, seed: number, inside = 6): Line {
  const uniform = uniformFrom(seed);
  const [angle, off] = [(uniform() - 0.5) * 1.2, (uniform() - 0.5) * 3];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const picture = drawn({
    widthPx: 130,
    heightPx: 110,
    noise,
    seed,
    stored: 'sRGB',
    light: ([x, y]) => {
      const across = (y - 55) * c - (x - 65) * s - off;
      const ground = 110 + 0.25 * (x - 65) + 0.3 * (y - 55) + (across > 0 ? 12 : 0);
      return (
        ground - (ground - inside) * (phi((across + width / 2) / blur) - phi((across - width / 2) / blur))
      );
    },
  });
  const end = (k: number): Point => [65 + 38 * k * c, 55 + 38 * k * s];
  return { picture, trace: [end(-1), end(1)] };
}

function found({ picture, trace }: Line): Opening {
  const opening = crackOpening(picture, trace, { everyPx: 6 });
  if (!opening.ok) throw new Error(opening.error.message);
  return opening.value;
}

const SEEDS = [1, 2, 3];

describe('opening of a crack on drawn lines', () => {
  // Wider than about three standard deviations of the blur with the pixel in it: the width is told.
  test.each([
    { blur: 0.7, widths: [3, 5, 8, 12] },
    { blur: 1.2, widths: [5, 8, 12] },
    { blur: 2, widths: [8, 12] },
  ])('blur $blur px: widths of $widths px are right to 0.2 px, and ±2u holds them', ({ blur, widths }) => {
    for (const noise of [1, 4]) {
      for (const width of widths) {
        const openings = SEEDS.map((seed) => found(line(width, blur, noise, seed)));
        for (const opening of openings) {
          expect(opening.known).toBe('width');
          if (opening.known !== 'width') continue;
          expect(Math.abs(opening.medianPx - width)).toBeLessThan(0.2);
          expect(Math.abs(opening.medianPx - width)).toBeLessThan(2 * opening.uPx);
          expect(opening.uPx).toBeLessThan(0.45);
          expect(opening.largestPx).toBeGreaterThanOrEqual(opening.medianPx);
          // The largest of several is too large by chance.
          expect(opening.largestPx - width).toBeLessThan(4 * opening.largestUPx);
          expect(Math.abs(opening.blurPx - blur)).toBeLessThan(0.25 * blur);
          expect(opening.profiles).toBeGreaterThanOrEqual(10);
        }
      }
    }
  });

  test.each([
    { blur: 0.7, widths: [0.5, 1, 1.5] },
    { blur: 1.2, widths: [0.5, 1, 1.5, 2] },
    { blur: 2, widths: [1, 2, 3] },
  ])('blur $blur px: of $widths px only an upper bound is told, and it holds', ({ blur, widths }) => {
    for (const width of widths) {
      const openings = SEEDS.map((seed) => found(line(width, blur, 1, seed)));
      for (const opening of openings) {
        expect(opening.known).toBe('upper bound');
        if (opening.known !== 'upper bound') continue;
        expect(opening.atMostPx).toBeGreaterThan(width);
        // It says something: not more than what a line of that width spreads to.
        expect(opening.atMostPx).toBeLessThan(width + 4 * Math.hypot(blur, 0.3));
      }
    }
  });

  test('a line that changes its width: the median and the largest tell them apart', () => {
    const picture = drawn({
      widthPx: 200,
      heightPx: 80,
      noise: 2,
      seed: 3,
      stored: 'sRGB',
      light: ([x, y]) => {
        const width = x < 130 ? 4 : 9;
        return 120 - 112 * (phi((y - 40.3 + width / 2) / 0.8) - phi((y - 40.3 - width / 2) / 0.8));
      },
    });
    const opening = crackOpening(picture, [
      [10, 41],
      [190, 39],
    ]);
    expect(opening).toMatchObject({ ok: true, value: { known: 'width' } });
    if (!opening.ok || opening.value.known !== 'width') return;
    expect(opening.value.medianPx).toBeCloseTo(4, 0);
    expect(opening.value.largestPx).toBeCloseTo(9, 0);
  });

  test('a blur that is given makes the answer for a line near the limit surer', () => {
    const one = line(4, 1.2, 4, 2);
    const free = found(one);
    const given = crackOpening(one.picture, one.trace, { blurPx: 1.2, everyPx: 6 });
    expect(given).toMatchObject({ ok: true, value: { known: 'width' } });
    if (!given.ok || given.value.known !== 'width') return;
    expect(Math.abs(given.value.medianPx - 4)).toBeLessThan(2 * given.value.uPx);
    if (free.known === 'width') expect(given.value.uPx).toBeLessThanOrEqual(free.uPx * 1.2);
  });

  test('no line, a line hardly darker than its ground, and one beside the search are refused', () => {
    const flat = drawn({ widthPx: 130, heightPx: 110, noise: 3, seed: 1, stored: 'sRGB', light: () => 100 });
    const trace: readonly Point[] = [
      [30, 55],
      [100, 55],
    ];
    const contrast = { ok: false, error: { code: 'opening-contrast', field: 'trace' } };
    expect(crackOpening(flat, trace)).toMatchObject(contrast);
    const faint = line(5, 0.8, 6, 1, 100);
    expect(crackOpening(faint.picture, faint.trace)).toMatchObject(contrast);
    const clear = line(5, 0.8, 2, 1);
    const beside = clear.trace.map(([x, y]): Point => [x, y + 30]);
    expect(crackOpening(clear.picture, beside)).toMatchObject(contrast);
  });

  test('a trace that is too short or off the picture, and searches that make no sense, are refused by name', () => {
    const { picture, trace } = line(5, 0.8, 2, 1);
    const [a = [0, 0]] = trace;
    expect(crackOpening(picture, [a])).toMatchObject({ ok: false, error: { code: 'opening-short' } });
    const short = (length: number): Point[] => [a, [a[0] + length, a[1]]];
    expect(crackOpening(picture, short(19.9))).toMatchObject({ ok: false, error: { code: 'opening-short' } });
    expect(crackOpening(picture, short(20.1))).not.toMatchObject({ error: { code: 'opening-short' } });
    expect(crackOpening(picture, [a, [999, 1]])).toMatchObject({ ok: false, error: { field: 'trace[1]' } });
    for (const [field, value] of [
      ['everyPx', 1],
      ['reachPx', 5],
      ['searchPx', -1],
      ['depthMin', Number.NaN],
      ['blurPx', -1],
    ] as const) {
      expect(crackOpening(picture, trace, { [field]: value })).toMatchObject({ ok: false, error: { field } });
    }
  });
});

test('rendered cracks with sharp flanks: the dark line is 0.7 to 1.6 times the opening asked of the renderer', async () => {
  const ratios: number[] = [];
  for (const name of [
    'ring-crack.jpg',
    'band-contact-crack.jpg',
    'groove-open.jpg',
    'back-radius-crack.jpg',
  ]) {
    const truth = sampleTruths().find(({ file }) => file === name);
    const crack = truth?.defects.find(({ kind }) => kind === 'crack');
    const main = crack?.branches?.[0];
    if (truth === undefined || crack?.widthMm === undefined || main === undefined) throw new Error(name);
    const nominalPx = crack.widthMm / truth.camera.mmPerPx;
    const part = main.px.slice(Math.floor(main.px.length * 0.2), Math.ceil(main.px.length * 0.8));
    const opening = crackOpening(await sampleGrey(name), part, { everyPx: 8 });
    if (!opening.ok || opening.value.known !== 'width') throw new Error(`${name}: no width`);
    ratios.push(opening.value.medianPx / nominalPx);
  }
  expect(quantile(ratios, 0)).toBeGreaterThan(0.7);
  expect(quantile(ratios, 1)).toBeLessThan(1.6);
});
