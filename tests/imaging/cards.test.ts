import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { cardPicture } from '../../bench/support/cardPictures.ts';
import { Chance, quantile, truths } from '../../bench/support/truth.ts';
import { must } from '../../lib/base/index.ts';
import { greyPicture } from '../../lib/imaging/server/index.ts';
import { type Cv, findCards, loadCv } from '../../lib/imaging/vision/index.ts';
import { cardLayout, locateReference } from '../../lib/photo/index.ts';

/** Detection is OpenCV’s (ArUco, dictionary 4x4_50); what is checked is what the program makes of it. */
const folder = join(import.meta.dirname, '../../sample-images/pictures');
let cv: Cv;
beforeAll(async () => {
  ({ cv } = await loadCv());
});

const even = {
  obliquityDegrees: 30,
  widthShare: 0.2,
  turnDegrees: 25,
  blurPx: 0.8,
  light: 'even',
  dirt: false,
  covered: 0,
} as const;

describe('the scale card in a photo', () => {
  test('is found in rendered pictures with each marker within a few pixels, and located to a fraction of one', async () => {
    const distances: number[] = [];
    for (const name of ['weld-3', 'seat-2', 'groove-4', 'gap-25', 'back-seat-rust']) {
      const truth = must(
        truths().find((one) => one.name === name),
        name,
      );
      const [card] = findCards(cv, await greyPicture(readFileSync(join(folder, truth.file))));
      const found = must(card, name);
      const { scale } = truth;
      if (scale?.source !== 'scale card') throw new Error(`${name} has no card`);
      const wanted = scale.markers.filter(({ visible }) => visible);
      expect(found.layout).toBe('pocket card');
      expect(found.markers.map(({ id }) => id)).toEqual(wanted.map(({ id }) => id));
      for (const marker of found.markers) {
        const { corners } = must(
          wanted.find(({ id }) => id === marker.id),
          'marker',
        );
        marker.corners.forEach(([x, y], k) => {
          const [u, v] = must(corners[k], 'corner');
          distances.push(Math.hypot(x - u, y - v));
        });
      }
      const markers = found.markers.map(({ id, corners }) => ({
        id,
        corners: corners.map(([x, y]) => [x, y]) as never,
      }));
      const camera = {
        widthPx: truth.widthPx,
        heightPx: truth.heightPx,
        focal35Mm: truth.focal35Mm,
        profile: null,
      };
      const located = locateReference(
        { source: 'scale card', layout: found.layout, markers, ruler: null },
        camera,
      );
      expect(located.ok && (located.value.residualPx ?? 1), name).toBeLessThan(0.5);
    }
    expect(Math.max(...distances)).toBeLessThan(2);
    expect(quantile(distances, 0.5)).toBeLessThan(0.8);
  });

  test('is not seen where there is none', async () => {
    for (const file of ['groove-clean.jpg', 'gap-0.jpg', 'centre-chalk.jpg']) {
      expect(findCards(cv, await greyPicture(readFileSync(join(folder, file)))), file).toEqual([]);
    }
  });

  test.each([
    ['in torch light, dirty', { ...even, light: 'torch', dirt: true }],
    ['overexposed', { ...even, light: 'overexposed' }],
    ['in glare', { ...even, light: 'glare' }],
    ['at 60°', { ...even, obliquityDegrees: 60 }],
    ['a twentieth of the picture wide', { ...even, widthShare: 0.05 }],
  ] as const)('is found whole %s', (_, shot) => {
    const { picture } = cardPicture(cardLayout('rim card'), shot, new Chance(5));
    expect(findCards(cv, picture)[0]?.markers.map(({ id }) => id)).toEqual([0, 1, 2, 3]);
  });

  test('partly covered gives the markers that are in sight and no others', () => {
    const { picture } = cardPicture(cardLayout('pocket card'), { ...even, covered: 0.5 }, new Chance(6));
    expect(findCards(cv, picture)).toMatchObject([
      { layout: 'pocket card', markers: [{ id: 5 }, { id: 6 }] },
    ]);
  });
});
