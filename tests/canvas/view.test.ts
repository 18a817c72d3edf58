import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  fitView,
  heldView,
  loupePlace,
  pannedBy,
  resizedView,
  SCALE_MAX,
  seenBox,
  toPhoto,
  type View,
  viewOfBox,
  zoomedAt,
} from '../../app/_canvas/view.ts';

const SEED = 20260318;
const FRAME = { widthPx: 4000, heightPx: 3000 };
const PHONE = { width: 390, height: 560 };

const anyView: fc.Arbitrary<View> = fc.record({
  scale: fc.double({ min: 0.001, max: 100, noNaN: true }),
  x: fc.double({ min: -200_000, max: 200_000, noNaN: true }),
  y: fc.double({ min: -200_000, max: 200_000, noNaN: true }),
});

test('the whole photo is shown in the middle, its outer edges half a pixel beyond the outer centres', () => {
  const view = fitView(FRAME, PHONE);
  expect(toPhoto(view, [0, 280])[0]).toBeCloseTo(-0.5, 9);
  expect(toPhoto(view, [390, 280])[0]).toBeCloseTo(3999.5, 9);
  const [x, y] = toPhoto(view, [195, 280]);
  expect(x).toBeCloseTo(1999.5, 9);
  expect(y).toBeCloseTo(1499.5, 9);
});

test('a small photo is not blown up to fill the window', () => {
  expect(fitView({ widthPx: 100, heightPx: 80 }, PHONE).scale).toBe(1);
});

test('whatever is asked for, the middle of the window keeps to the photo or its near surroundings', () => {
  fc.assert(
    fc.property(anyView, (asked) => {
      const view = heldView(asked, FRAME, PHONE);
      const [x, y] = toPhoto(view, [PHONE.width / 2, PHONE.height / 2]);
      expect(x).toBeGreaterThanOrEqual(-0.6);
      expect(x).toBeLessThanOrEqual(FRAME.widthPx);
      expect(y).toBeGreaterThanOrEqual(-0.6);
      expect(y).toBeLessThanOrEqual(FRAME.heightPx);
      expect(view.scale).toBeLessThanOrEqual(SCALE_MAX);
    }),
    { seed: SEED },
  );
});

test('holding a view twice changes nothing more', () => {
  fc.assert(
    fc.property(anyView, (asked) => {
      const once = heldView(asked, FRAME, PHONE);
      const twice = heldView(once, FRAME, PHONE);
      expect(twice.x).toBeCloseTo(once.x, 6);
      expect(twice.y).toBeCloseTo(once.y, 6);
      expect(twice.scale).toBe(once.scale);
    }),
    { seed: SEED },
  );
});

describe('zooming', () => {
  test('the place under the pointer stays under it', () => {
    const start = zoomedAt(fitView(FRAME, PHONE), 1, [195, 280], FRAME, PHONE);
    const at = [150, 200] as [number, number];
    const before = toPhoto(start, at);
    const after = toPhoto(zoomedAt(start, 4, at, FRAME, PHONE), at);
    expect(after[0]).toBeCloseTo(before[0], 6);
    expect(after[1]).toBeCloseTo(before[1], 6);
  });

  test('goes on until single pixels can be counted, and stops there', () => {
    expect(SCALE_MAX).toBeGreaterThanOrEqual(16);
    expect(zoomedAt(fitView(FRAME, PHONE), 1e6, [10, 10], FRAME, PHONE).scale).toBe(SCALE_MAX);
  });

  test('going all the way out gives the whole photo', () => {
    const near = zoomedAt(fitView(FRAME, PHONE), 8, [10, 300], FRAME, PHONE);
    expect(zoomedAt(near, 0, [300, 10], FRAME, PHONE)).toEqual(fitView(FRAME, PHONE));
  });
});

test('panning far leaves part of the photo in the window', () => {
  const near = zoomedAt(fitView(FRAME, PHONE), 2, [195, 280], FRAME, PHONE);
  const view = pannedBy(near, 1e6, 1e6, FRAME, PHONE);
  const [x, y] = toPhoto(view, [PHONE.width * 0.3, PHONE.height * 0.3]);
  expect(x).toBeCloseTo(-0.5, 6);
  expect(y).toBeCloseTo(-0.5, 6);
});

test('turning the phone keeps the place in the middle', () => {
  const view = zoomedAt(fitView(FRAME, PHONE), 2, [100, 250], FRAME, PHONE);
  const turned = { width: 560, height: 390 };
  const middle = toPhoto(view, [PHONE.width / 2, PHONE.height / 2]);
  const after = toPhoto(resizedView(view, PHONE, turned, FRAME), [turned.width / 2, turned.height / 2]);
  expect(after[0]).toBeCloseTo(middle[0], 6);
  expect(after[1]).toBeCloseTo(middle[1], 6);
});

test('a mark is brought to the middle of the window', () => {
  const view = viewOfBox({ left: 1900, top: 1400, right: 2100, bottom: 1600 }, FRAME, PHONE);
  const [x, y] = toPhoto(view, [195, 280]);
  expect(x).toBeCloseTo(2000, 6);
  expect(y).toBeCloseTo(1500, 6);
});

test('a single spot is enlarged eightfold and no more', () => {
  expect(viewOfBox({ left: 9, top: 9, right: 9, bottom: 9 }, FRAME, PHONE).scale).toBe(8);
});

test('the part in sight is what the corners of the window look at', () => {
  const view = { scale: 2, x: -100, y: -50 };
  expect(seenBox(view, PHONE, 0)).toEqual({ left: 50, top: 25, right: 245, bottom: 305 });
});

describe('the loupe', () => {
  test('stands above the finger', () => {
    const [x, y] = loupePlace([200, 400], PHONE, 148);
    expect(x).toBe(200);
    expect(y + 74).toBeLessThan(400 - 48);
  });

  test('stands beside the finger near the top, on the roomier side, and never under it', () => {
    const right = loupePlace([60, 20], PHONE, 148);
    expect(right[0] - 74).toBeGreaterThan(60 + 24);
    const left = loupePlace([330, 20], PHONE, 148);
    expect(left[0] + 74).toBeLessThan(330 - 24);
  });

  test('is always whole inside the window and clear of the finger', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 390 }), fc.integer({ min: 0, max: 560 }), (fx, fy) => {
        const [x, y] = loupePlace([fx, fy], PHONE, 148);
        expect(Math.min(x, y)).toBeGreaterThanOrEqual(74);
        expect(x).toBeLessThanOrEqual(390 - 74);
        expect(Math.hypot(x - fx, y - fy)).toBeGreaterThan(74 + 12);
      }),
      { seed: SEED },
    );
  });
});
