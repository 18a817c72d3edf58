import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { commonSpots } from '../../bench/support/correspond.ts';
import { rephotographed } from '../../bench/support/rephotographed.ts';
import { rimOf } from '../../bench/support/rimOf.ts';
import { Chance, pairs, pictures, quantile, type Truth, truths } from '../../bench/support/truth.ts';
import { must } from '../../lib/base/index.ts';
import { greyPicture } from '../../lib/imaging/server/index.ts';
import { alignPhotos, type Cv, loadCv } from '../../lib/imaging/vision/index.ts';
import {
  isKnownAt,
  mapBack,
  mapPoint,
  mapThrough,
  type PhotoMap,
  type Point,
} from '../../lib/photo/index.ts';

/** Quality over many pairs is measured by bench/alignment.ts; here are the few that must not get worse, with margins. */
let cv: Cv;
beforeAll(async () => {
  ({ cv } = await loadCv());
});
const truthOf = (name: string): Truth =>
  must(
    truths().find((one) => one.name === name),
    name,
  );
const pairedTruth = (name: string): Truth =>
  must(
    truths(pairs).find((one) => one.name === name),
    name,
  );
const pictureOf = (name: string, where = pictures) => greyPicture(readFileSync(join(where, `${name}.jpg`)));
const miss = (map: PhotoMap, from: Point, to: Point) => {
  const [x, y] = mapThrough(map, from);
  return Math.hypot(x - to[0], y - to[1]);
};

describe('two photos laid over each other by the rim that both show', () => {
  it('puts a weld three years later on the weld before, half of the metal within 1.2 px of 1600', async () => {
    const [a, b] = [await pictureOf('weld-1'), await pictureOf('weld-4')];
    const rims = [
      must(rimOf(cv, truthOf('weld-1'), a), 'card'),
      must(rimOf(cv, truthOf('weld-4'), b), 'card'),
    ] as const;
    const laid = alignPhotos(cv, a, b, rims);
    if (!laid.ok) throw new Error(laid.error.message);
    expect(laid.value.method).toBe('rim surface');
    const { map } = laid.value;
    const spots = commonSpots(truthOf('weld-1'), truthOf('weld-4')).filter(({ from }) =>
      isKnownAt(map, from),
    );
    expect(spots.length).toBeGreaterThan(200);
    expect(
      quantile(
        spots.map(({ from, to }) => miss(map, from, to)),
        0.5,
      ),
    ).toBeLessThan(1.2);
    const back = spots.flatMap(({ from, to }) => {
      const at = mapBack(map, to);
      return at === null ? [] : [Math.hypot(at[0] - from[0], at[1] - from[1])];
    });
    expect(back.length).toBeGreaterThan(0.8 * spots.length);
    expect(quantile(back, 0.5)).toBeLessThan(2);
  }, 60_000);
});

describe('two photos laid over each other by what both show', () => {
  it.each([
    ['a groove with its steps', 'try-groove', 1.6, 250],
    ['a flange between floor and face', 'try-contact', 1.0, 200],
    ['a seat before the flange behind it', 'try-back-seat', 1.6, 350],
  ])(
    'puts %s on itself without a card, half of the metal within px of 1600',
    async (_, name, px, least) => {
      const [a, b] = [pairedTruth(`${name}-1`), pairedTruth(`${name}-2`)];
      const laid = alignPhotos(cv, await pictureOf(a.name, pairs), await pictureOf(b.name, pairs));
      if (!laid.ok) throw new Error(laid.error.message);
      const { map, method, medianPx } = laid.value;
      expect(method).toBe('features');
      const spots = commonSpots(a, b).filter(({ from }) => isKnownAt(map, from));
      expect(spots.length).toBeGreaterThan(least);
      const errors = spots.map(({ from, to }) => miss(map, from, to));
      expect(quantile(errors, 0.5)).toBeLessThan(px);
      expect(quantile(errors, 0.9)).toBeLessThan(8);
      expect(medianPx).toBeLessThan(1.5);
    },
    60_000,
  );

  it('puts a flat picture photographed anew on itself to within 1.2 px of 1600, in other light and with new rust', async () => {
    const picture = await pictureOf('back-seat-rust');
    const again = rephotographed(picture, new Chance(11));
    const laid = alignPhotos(cv, picture, again.picture);
    if (!laid.ok) throw new Error(laid.error.message);
    const errors: number[] = [];
    for (let y = 100; y < picture.heightPx; y += 100)
      for (let x = 100; x < picture.widthPx; x += 100)
        if (isKnownAt(laid.value.map, [x, y]))
          errors.push(miss(laid.value.map, [x, y], mapPoint(again.truth, [x, y])));
    expect(errors.length).toBeGreaterThan(50);
    expect(quantile(errors, 0.5)).toBeLessThan(1.2);
  }, 60_000);

  it.each([
    ['the same zone of another wheel', 'weld-2', 'gutter-weld-crack'],
    ['another zone', 'groove-1', 'weld-1'],
    ['another flange with the same tape', 'flange-2', 'contact-worn'],
  ])(
    'refuses %s and offers points by hand',
    async (_, a, b) => {
      const laid = alignPhotos(cv, await pictureOf(a), await pictureOf(b));
      expect(laid.ok).toBe(false);
      if (!laid.ok) expect(laid.error.wayOut).toMatch(/by hand/);
    },
    60_000,
  );
});
