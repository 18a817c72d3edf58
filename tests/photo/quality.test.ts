import { describe, expect, test } from 'vitest';
import { must, type Problem, type Result } from '../../lib/base/index.ts';
import {
  figuresNear,
  type GreyPicture,
  judgeQuality,
  type PhotoQuality,
  type PictureFigures,
  pictureFigures,
  QUALITY_LIMITS,
  type QualityFigure,
  qualityLevel,
} from '../../lib/photo/index.ts';
import { caseOf } from '../support/cases.ts';
import { drawn, phi } from '../support/pictures.ts';

function taken<T>(result: Result<T, Problem>): T {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

function filled(widthPx: number, value: (x: number, y: number) => number, heightPx = widthPx): GreyPicture {
  const values = new Uint8Array(widthPx * heightPx);
  for (let i = 0; i < values.length; i += 1) values[i] = value(i % widthPx, Math.floor(i / widthPx));
  return { widthPx, heightPx, values };
}

describe('figures of a picture', () => {
  const pictures: Record<string, GreyPicture> = {
    impulse: filled(7, (x, y) => (x === 3 && y === 3 ? 255 : 0)),
    checker: filled(8, (x, y) => ((x + y) % 2) * 255),
    ramp: filled(8, (x) => 10 * x),
    edge: filled(8, (x) => (x < 4 ? 0 : 200)),
  };

  test('published case G-01: variance of the Laplacian of four pictures', () => {
    const { recomputed } = caseOf('G-01');
    for (const [name, picture] of Object.entries(pictures)) {
      expect(taken(pictureFigures(picture)).laplacianVariance).toBeCloseTo(recomputed[name], 8);
    }
    // Away from the border, where nothing is mirrored, an even slope has none.
    const ramp = must(pictures.ramp, 'ramp');
    const interior = { left: 1, top: 1, right: 6, bottom: 6 };
    expect(taken(pictureFigures(ramp, interior)).laplacianVariance).toBe(recomputed.ramp_interior);
  });

  test('published case G-10: clipping with both limits included', () => {
    const { inputs, expected } = caseOf('G-10');
    const pixels = inputs.pixels as number[];
    expect([inputs.low_limit, inputs.high_limit]).toEqual([0, 255]);
    // Three rows alike: a picture is three pixels or more each way.
    const picture = filled(pixels.length, (x) => must(pixels[x], 'pixel'), 3);
    expect(taken(figuresNear(picture, [[4, 1]]))).toMatchObject({
      shadowShare: expected.low_share,
      highlightShare: expected.high_share,
    });
    expect(taken(pictureFigures(filled(6, (x) => (x < 3 ? 1 : 254))))).toMatchObject({
      shadowShare: 0,
      highlightShare: 0,
    });
  });

  /** Edges in all directions: a disc, light on dark. */
  const disc = (blur: number, contrast: number, noise = 1) =>
    drawn({
      widthPx: 160,
      heightPx: 160,
      noise,
      seed: 4,
      light: ([x, y]) => 60 + contrast * phi((55 - Math.hypot(x - 80, y - 80)) / blur),
    });

  test('the variance of the Laplacian falls with blur and with contrast; the blur of edges only follows the blur', () => {
    const blurs = [0.7, 1, 1.5, 2.2];
    const sharp = blurs.map((blur) => taken(pictureFigures(disc(blur, 120))));
    const pale = blurs.map((blur) => taken(pictureFigures(disc(blur, 40))));
    for (const [i, blur] of blurs.entries()) {
      const [one, other] = [sharp[i]?.edgeBlurPx ?? Number.NaN, pale[i]?.edgeBlurPx ?? Number.NaN];
      expect(Math.abs(one / Math.hypot(blur, 0.29) - 1)).toBeLessThan(0.25);
      // Noise makes the sharpest tenth of pale edges read too sharp.
      expect(Math.abs(other - one)).toBeLessThan(0.35 * one);
      if (i === 0) continue;
      expect(one).toBeGreaterThan(sharp[i - 1]?.edgeBlurPx ?? 99);
      expect(sharp[i]?.laplacianVariance).toBeLessThan(sharp[i - 1]?.laplacianVariance ?? 0);
    }
    // A third of the contrast is a ninth of the variance, where noise does not hide it.
    const [high, low] = [120, 40].map(
      (contrast) => taken(pictureFigures(disc(0.7, contrast, 0))).laplacianVariance,
    );
    expect((high ?? 0) / (low ?? 1)).toBeGreaterThan(7);
  });

  test('a picture shaken one way is not sharp, though its edges along the shake are', () => {
    const shaken = drawn({
      widthPx: 160,
      heightPx: 160,
      noise: 1,
      seed: 4,
      light: ([x, y]) => {
        let sum = 0;
        for (let k = -5; k <= 5; k += 1) sum += phi((55 - Math.hypot(x + k - 80, y - 80)) / 0.7);
        return 60 + (120 * sum) / 11;
      },
    });
    expect(taken(pictureFigures(shaken)).edgeBlurPx).toBeGreaterThan(1.6);
    expect(taken(pictureFigures(disc(0.7, 120))).edgeBlurPx).toBeLessThan(0.95);
  });

  test('noise, mean and shares are those of the picture; without edges there is no blur', () => {
    for (const noise of [2, 5, 9]) {
      const picture = drawn({ widthPx: 120, heightPx: 120, noise, seed: 7, light: ([x]) => 80 + x / 4 });
      const figures = taken(pictureFigures(picture));
      expect(Math.abs(figures.noise / noise - 1)).toBeLessThan(0.06);
      expect(Math.abs(figures.brightness - 94.9)).toBeLessThan(0.5);
      expect(figures.edgeBlurPx).toBeNull();
    }
    const half = taken(pictureFigures(filled(10, (x) => (x < 3 ? 0 : 255))));
    expect([half.shadowShare, half.highlightShare]).toEqual([0.3, 0.7]);
    // Rounding to whole values is noise as well.
    expect(taken(pictureFigures(filled(10, () => 90))).noise).toBeCloseTo(1 / Math.sqrt(12), 6);
  });

  test('a window takes its own pixels only, and one off the picture is refused', () => {
    const picture = filled(20, (x) => (x < 10 ? 0 : 255));
    const window = { left: 0, top: 0, right: 9, bottom: 19 };
    expect(taken(pictureFigures(picture, window))).toMatchObject({ shadowShare: 1, brightness: 0 });
    for (const wrong of [
      { ...window, right: 20 },
      { ...window, left: -1 },
      { ...window, right: 1 },
      { ...window, top: 0.5 },
    ]) {
      expect(pictureFigures(picture, wrong)).toMatchObject({ ok: false, error: { field: 'within' } });
    }
  });
});

describe('judging the quality of a photo', () => {
  const near: PictureFigures = {
    laplacianVariance: 30,
    edgeBlurPx: 0.5,
    shadowShare: 0,
    highlightShare: 0,
    brightness: 110,
    noise: 1,
  };
  const good: PhotoQuality = {
    near,
    mmPerPx: 0.1,
    obliquityDegrees: 20,
    referenceShare: 0.2,
    markerPx: 90,
  };
  const withFigure: Record<QualityFigure, (value: number) => PhotoQuality> = {
    'mm per pixel': (mmPerPx) => ({ ...good, mmPerPx }),
    obliquity: (obliquityDegrees) => ({ ...good, obliquityDegrees }),
    focus: (edgeBlurPx) => ({ ...good, near: { ...near, edgeBlurPx } }),
    highlights: (highlightShare) => ({ ...good, near: { ...near, highlightShare } }),
    shadows: (shadowShare) => ({ ...good, near: { ...near, shadowShare } }),
    'too dark': (brightness) => ({ ...good, near: { ...near, brightness } }),
    'too bright': (brightness) => ({ ...good, near: { ...near, brightness } }),
    'distance from reference': (referenceShare) => ({ ...good, referenceShare }),
    'marker size': (markerPx) => ({ ...good, markerPx }),
  };
  const figures = Object.keys(QUALITY_LIMITS) as QualityFigure[];

  test('a good photo is good in every figure', () => {
    const judged = taken(judgeQuality(good));
    expect(judged.map(({ figure }) => figure).sort()).toEqual([...figures].sort());
    expect(judged.every(({ level }) => level === 'good')).toBe(true);
  });

  test.each(figures)('%s: good at the limit, then warned, then refused, each with its way out', (figure) => {
    const { worse, warn, refuse } = QUALITY_LIMITS[figure];
    const step = (worse === 'above' ? 1 : -1) * 1e-9 * Math.max(1, refuse);
    const sentence = (value: number, level: string) => {
      const judged = taken(judgeQuality(withFigure[figure](value)));
      const one = judged.find((each) => each.figure === figure);
      expect(one).toMatchObject({ level, value });
      // The worst comes first, and nothing else has got worse.
      if (level !== 'good') expect(judged[0]).toEqual(one);
      expect(judged.filter((each) => each.level !== 'good')).toHaveLength(level === 'good' ? 0 : 1);
      expect(one?.wayOut === '').toBe(level === 'good');
      return one?.words ?? '';
    };
    const said = [
      sentence(warn, 'good'),
      sentence(warn + step, 'warn'),
      sentence(refuse, 'warn'),
      sentence(refuse + step, 'refuse'),
    ];
    expect(new Set(said).size).toBe(3);
    expect(said.every((words) => words.length > 3 && words.length < 100)).toBe(true);
    expect(worse === 'above' ? warn < refuse : warn > refuse).toBe(true);
    expect(qualityLevel(figure, warn)).toBe('good');
  });

  test('a card looked for in vain is refused; what is not known is left out; no edges warn', () => {
    const none = { near: null, mmPerPx: null, obliquityDegrees: null, referenceShare: null, markerPx: null };
    expect(taken(judgeQuality(none))).toEqual([]);
    const lost = taken(judgeQuality({ ...good, markerPx: 'not found' }));
    expect(lost[0]).toMatchObject({ figure: 'card', level: 'refuse' });
    expect(lost[0]?.words).toContain('The card is not in the picture');
    const plain = taken(judgeQuality({ ...good, near: { ...near, edgeBlurPx: null } }));
    expect(plain[0]).toMatchObject({ figure: 'focus', level: 'warn', value: null });
  });

  test.each(figures)(
    '%s that is not a number, or below 0, is refused by its name and not passed',
    (figure) => {
      for (const value of [Number.NaN, -1, Number.POSITIVE_INFINITY]) {
        const judged = judgeQuality(withFigure[figure](value));
        expect(judged.ok).toBe(false);
        if (!judged.ok && !figure.startsWith('too')) expect(judged.error.field).toBe(figure);
      }
    },
  );
});
