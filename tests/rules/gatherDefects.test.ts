import { describe, expect, test } from 'vitest';
import type { Entry } from '../../lib/record/index.ts';
import type { Evidence } from '../../lib/rules/index.ts';
import { at, RING, thing } from '../support/entries.ts';
import {
  depth,
  gathered,
  inPlane,
  inspected,
  LOOSE,
  look,
  mark,
  noted,
  PHOTO_A,
  PHOTO_B,
  partOf,
  photo,
  redrawn,
  scale,
} from './record.ts';

/** What the engine is told of a record is our own specification, no source. */
describe('defects of a part', () => {
  const sizes = (evidence: Evidence) =>
    partOf(evidence, 'rim base').defects.map(({ id, defect, lengthMm, areaMm2 }) => [
      id,
      defect,
      lengthMm?.value ?? null,
      areaMm2?.value ?? null,
    ]);

  test('a marked crack has a length and a marked patch an area where the photo has a scale', () => {
    const patch = {
      form: 'patch',
      outline: [
        [0, 0],
        [20, 0],
        [20, 10],
        [0, 10],
      ],
    } as const;
    const marks = [
      mark(5),
      mark(4, { defect: 'corrosion', shape: patch as never }),
      // A crack has no area, a patch no length, and a spot neither.
      mark(3, { shape: patch as never }),
      mark(2, { defect: 'wear', shape: { form: 'spot', at: [1, 1] } }),
      mark(1, { defect: 'corrosion' }),
    ];
    expect(sizes(gathered([...marks, scale(PHOTO_A), inPlane(PHOTO_A)]))).toEqual([
      [thing(1), 'corrosion', null, null],
      [thing(2), 'wear', null, null],
      [thing(3), 'crack', null, null],
      [thing(4), 'corrosion', null, expect.closeTo(50, 6)],
      [thing(5), 'crack', expect.closeTo(20, 6), null],
    ]);
    expect(
      sizes(gathered([...marks, scale(PHOTO_B), inPlane(PHOTO_B)]))
        .flat()
        .filter((one) => typeof one === 'number'),
    ).toEqual([]);
  });

  test('an angle is neither a length nor an area, whatever defect it may stand for', () => {
    const shape = {
      form: 'angle',
      vertex: [0, 0],
      arms: [
        [30, 0],
        [0, 30],
      ],
    } as never;
    const marks = [mark(3, { shape }), mark(2, { defect: 'bent', shape }), mark(1, { defect: null, shape })];
    expect(sizes(gathered([...marks, scale(PHOTO_A), inPlane(PHOTO_A)]))).toEqual([
      [thing(2), 'bent', null, null],
      [thing(3), 'crack', null, null],
    ]);
  });

  test('a size carries its standard uncertainty', () => {
    const [crack] = partOf(gathered([mark(5), scale(PHOTO_A), inPlane(PHOTO_A)]), 'rim base').defects;
    expect(crack).toEqual({
      id: thing(5),
      defect: 'crack',
      zone: 'gutter weld',
      clock: 5,
      method: 'visual',
      note: 'seen',
      lengthMm: { value: expect.closeTo(20, 6), u: expect.any(Number) },
      areaMm2: null,
    });
    // More than two picks of 1.5 px at two pixels to the millimetre, less than a tenth of the length.
    expect(crack?.lengthMm?.u).toBeGreaterThan(0.75 * Math.SQRT2);
    expect(crack?.lengthMm?.u).toBeLessThan(2);
  });

  test('where the photo was too poor at the mark its size is not measured, until it is drawn elsewhere', () => {
    const near = { edgeBlurPx: 0.5, highlightShare: 0, shadowShare: 0, brightness: 120 };
    const looked = (over: object) =>
      inspected('markLookedAt', { mark: thing(5), near: { ...near, ...over } });
    const drawn = [mark(5), scale(PHOTO_A), inPlane(PHOTO_A)];
    const lengthWith = (...entries: Entry[]) =>
      partOf(gathered([...drawn, ...entries]), 'rim base').defects[0]?.lengthMm ?? null;
    const sharp = lengthWith();
    expect(sharp?.value).toBeCloseTo(20, 6);
    expect(lengthWith(looked({}))).toEqual(sharp);
    expect(lengthWith(looked({ edgeBlurPx: 2.5 }))).toBeNull();
    expect(lengthWith(looked({ highlightShare: 0.4 }))).toBeNull();
    // The same shape with another note keeps what was seen, another shape does not; nor does a later, better look.
    expect(lengthWith(looked({ edgeBlurPx: 2.5 }), redrawn(5, { note: 'again' }))).toBeNull();
    const moved = {
      form: 'trace',
      branches: [
        [
          [0, 0],
          [0, 40],
        ],
      ],
    } as const;
    expect(lengthWith(looked({ edgeBlurPx: 2.5 }), redrawn(5, { shape: moved as never }))?.value).toBeCloseTo(
      20,
      6,
    );
    expect(lengthWith(looked({ edgeBlurPx: 2.5 }), looked({}))).toEqual(sharp);
  });

  test('a mark without a defect is a measure and no defect', () => {
    expect(sizes(gathered([mark(5, { defect: null })]))).toEqual([]);
  });

  test('noted and marked defects of the part stand together in the order of their ids, those of others not', () => {
    const entries = [
      noted(8),
      mark(7),
      noted(6),
      noted(5, { component: RING }),
      mark(4, { component: RING }),
    ];
    const { defects } = partOf(gathered(entries), 'rim base');
    expect(defects.map((one) => one.id)).toEqual([thing(6), thing(7), thing(8)]);
    expect(defects[0]).toEqual({
      id: thing(6),
      defect: 'bent',
      zone: 'centre band',
      clock: null,
      method: 'visual',
      note: 'no photo',
      lengthMm: null,
      areaMm2: null,
    });
  });
});

test('what was recorded of a component in no slot is told once for each sort, and not lost', () => {
  const entries = [
    look('ring body', 'nothing seen', LOOSE),
    look('ring ends', 'nothing seen', LOOSE),
    photo(PHOTO_A, { component: RING }),
    noted(2, { component: LOOSE }),
    mark(3, { component: LOOSE }),
    depth(4, { component: LOOSE }),
    noted(5),
    depth(6),
  ];
  expect(gathered(entries).elsewhere).toEqual([
    { component: RING, what: 'photo' },
    { component: LOOSE, what: 'defect' },
    { component: LOOSE, what: 'look' },
    { component: LOOSE, what: 'mark' },
    { component: LOOSE, what: 'reading' },
  ]);
});

test('entries that this version cannot read are counted', () => {
  const unknown = { ...depth(2), id: thing(99), kind: 'reading dreamt', at: at(9_000_000) } as Entry;
  expect(gathered([unknown]).unreadable).toBe(1);
});
