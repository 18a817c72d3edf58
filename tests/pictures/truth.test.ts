import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import { PointPx } from '../../lib/marks/index.ts';
import {
  cardLayout,
  cardLayouts,
  homographyFrom,
  mapPoint,
  markerCells,
  markerCorners,
} from '../../lib/photo/index.ts';
import {
  ConstructionId,
  constructionOf,
  constructions,
  parseDesignation,
  sectionOf,
} from '../../lib/wheel/index.ts';
import { indexText, readTruths } from '../../sample-images/render/index.ts';

/**
 * The truth of the rendered pictures, checked against the program's own sections and card layouts and against a camera
 * model written anew from the textbook (pinhole and radial terms as in Zhang 2000 and OpenCV's documentation).
 */

const folder = join(import.meta.dirname, '..', '..', 'sample-images');
const Px = z.tuple([z.number(), z.number()]);
const Point = z.tuple([z.number(), z.number(), z.number()]);
const OffPlane = z.object({ least: z.number(), mean: z.number(), most: z.number() }).nullable();
const Truth = z.object({
  file: z.string(),
  mask: z.string().nullable(),
  widthPx: z.number(),
  heightPx: z.number(),
  orientation: z.union([z.literal(1), z.literal(3), z.literal(6), z.literal(8)]),
  focal35Mm: z.number(),
  wheel: z.string(),
  designation: z.string(),
  construction: ConstructionId,
  slot: z.string(),
  zone: z.string(),
  daysAgo: z.number().nullable(),
  light: z.enum(['bay', 'shade', 'sun', 'torch']),
  camera: z.object({
    focalPx: z.number(),
    centrePx: Px,
    distortion: z.object({ k1: z.number(), k2: z.number() }),
    rotation: z.tuple([Point, Point, Point]),
    translationMm: Point,
    mmPerPx: z.number(),
  }),
  scale: z
    .discriminatedUnion('source', [
      z.object({
        source: z.literal('scale card'),
        layout: z.enum(['rim card', 'pocket card']),
        cardCorners: z.array(Px).length(4),
        markers: z.array(z.object({ id: z.number(), corners: z.array(Px).length(4), visible: z.boolean() })),
      }),
      z.object({
        source: z.literal('steel tape'),
        ends: z.array(Px).length(2),
        lengthMm: z.number(),
        marks: z.array(z.object({ mm: z.number(), px: Px })),
      }),
    ])
    .nullable(),
  defects: z.array(
    z.object({
      kind: z.string(),
      component: z.string(),
      zone: z.string(),
      clock: z.number(),
      branches: z.array(z.object({ px: z.array(Px), mm: z.number(), rimMm: z.array(Point) })).default([]),
      outlines: z.array(z.array(Px).min(3)).default([]),
      lengthMm: z.number().optional(),
      longestMm: z.number().optional(),
      tipToTipMm: z.number().optional(),
      widthMm: z.number().optional(),
      areaMm2: z.number().optional(),
      depthMm: z.number(),
      visibleShare: z.number(),
      outOfPlaneMm: OffPlane,
    }),
  ),
  lookAlikes: z.array(z.object({ kind: z.string() })),
  gapMm: z.number().nullable(),
  wearMm: z.number().nullable(),
});
type Truth = z.infer<typeof Truth>;

const truths = readdirSync(join(folder, 'pictures'))
  .filter((file) => file.endsWith('.json'))
  .sort()
  .map((file) => Truth.parse(JSON.parse(readFileSync(join(folder, 'pictures', file), 'utf8'))));
const named = (name: string): Truth =>
  must(
    truths.find(({ file }) => file === `${name}.jpg`),
    name,
  );
const cracks = truths.flatMap(({ file, defects }) =>
  defects.filter(({ kind }) => kind === 'crack').map((crack) => ({ file, ...crack })),
);
type Camera = Truth['camera'];
type P3 = z.infer<typeof Point>;

/** Where a point of the rim frame lies in the picture. */
function project(camera: Camera, point: P3): [number, number] {
  const [x, y, depth] = camera.rotation.map(
    (row, index) =>
      row[0] * point[0] + row[1] * point[1] + row[2] * point[2] + must(camera.translationMm[index], 'axis'),
  ) as [number, number, number];
  const [a, b] = [x / depth, y / depth];
  const q = a * a + b * b;
  const bent = 1 + camera.distortion.k1 * q + camera.distortion.k2 * q * q;
  return [a * bent * camera.focalPx + camera.centrePx[0], b * bent * camera.focalPx + camera.centrePx[1]];
}

/** The pinhole pixel of a pixel of the picture: the radial terms taken out by repeated substitution. */
function straightened(camera: Camera, [x, y]: readonly [number, number]): [number, number] {
  const [cx, cy] = camera.centrePx;
  const [a, b] = [(x - cx) / camera.focalPx, (y - cy) / camera.focalPx];
  let [u, v] = [a, b];
  for (let turn = 0; turn < 12; turn += 1) {
    const q = u * u + v * v;
    const bent = 1 + camera.distortion.k1 * q + camera.distortion.k2 * q * q;
    [u, v] = [a / bent, b / bent];
  }
  return [u * camera.focalPx + cx, v * camera.focalPx + cy];
}

const apart = (a: readonly number[], b: readonly number[]) =>
  Math.hypot(...a.map((value, index) => value - must(b[index], 'coordinate')));

describe('the set of pictures', () => {
  test('has at least 56 pictures, eight of 12 megapixels, the rest 1600 × 1200 or larger, 60 MB at most', () => {
    expect(truths.length).toBeGreaterThanOrEqual(56);
    const sizes = truths.map(({ widthPx, heightPx }) => widthPx * heightPx);
    expect(sizes.filter((size) => size >= 11.9e6).length).toBeGreaterThanOrEqual(8);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(1600 * 1200);
    const bytes = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile())
      .reduce((sum, one) => sum + statSync(join(one.parentPath, one.name)).size, 0);
    expect(bytes).toBeLessThanOrEqual(60e6);
  });

  test('shows every zone of every kind of component', () => {
    const shown = new Set(
      truths.map(({ construction, slot, zone }) => {
        const { kind } = must(
          constructionOf(construction).slots.find((one) => one.slot === slot),
          slot,
        );
        return `${kind}: ${zone}`;
      }),
    );
    const wanted = constructions.flatMap(({ slots }) =>
      slots.flatMap(({ kind, zones }) => zones.map(({ zone }) => `${kind}: ${zone}`)),
    );
    expect([...new Set(wanted)].filter((one) => !shown.has(one))).toEqual([]);
  });

  test('has cracks of 8 to 200 mm, hairline to open, in the places where rims crack', () => {
    const lengths = cracks.map(({ longestMm }) => must(longestMm, 'length'));
    expect(Math.min(...lengths)).toBeLessThan(8.5);
    expect(Math.max(...lengths)).toBeGreaterThan(195);
    const widths = cracks.map(({ widthMm }) => must(widthMm, 'width'));
    expect(Math.min(...widths)).toBeLessThanOrEqual(0.12);
    expect(Math.max(...widths)).toBeGreaterThanOrEqual(1);
    expect([...new Set(cracks.map(({ zone }) => zone))]).toEqual(
      expect.arrayContaining([
        'gutter groove',
        'gutter weld',
        'back weld',
        'back flange radius',
        'stud holes',
        'ring body',
      ]),
    );
  });

  test('has gaps of 0 to 25 mm, corrosion, pitting, wear, and look-alikes without a defect', () => {
    const gaps = truths.flatMap(({ gapMm, file }) => (file.startsWith('gap-') ? [gapMm] : []));
    expect(gaps.toSorted((a, b) => Number(a) - Number(b))).toEqual([0, 6, 14, 25]);
    const kinds = new Set(truths.flatMap(({ defects }) => defects.map(({ kind }) => kind)));
    expect([...kinds]).toEqual(
      expect.arrayContaining(['crack', 'corrosion', 'pitting', 'wear', 'broken', 'galling']),
    );
    const harmless = truths.filter(({ lookAlikes }) => lookAlikes.length > 0);
    for (const { file, defects } of harmless) expect(defects, file).toEqual([]);
    expect([...new Set(harmless.flatMap(({ lookAlikes }) => lookAlikes.map(({ kind }) => kind)))]).toEqual(
      expect.arrayContaining([
        'scratch',
        'paint drip',
        'chalk line',
        'hair',
        'rubber streaks',
        'rust streak',
        'shadow',
        'weld bead',
      ]),
    );
    const clean = truths.filter((one) => one.defects.length === 0 && one.lookAlikes.length === 0);
    expect(clean.length).toBeGreaterThanOrEqual(8);
  });

  test('has scale cards, tapes and neither; four kinds of light', () => {
    const scales = truths.map(({ scale }) => scale?.source ?? 'neither');
    for (const source of ['scale card', 'steel tape', 'neither']) {
      expect(scales.filter((one) => one === source).length, source).toBeGreaterThanOrEqual(8);
    }
    expect(new Set(truths.map(({ light }) => light)).size).toBe(4);
  });

  test('shows four zones of two wheels again at three later dates: worse each time, from elsewhere', () => {
    for (const name of ['groove', 'weld', 'seat', 'flange']) {
      const dates = [1, 2, 3, 4].map((n) => named(`${name}-${n}`));
      const days = dates.map(({ daysAgo }) => must(daysAgo ?? undefined, 'date'));
      expect(days).toEqual(days.toSorted((a, b) => b - a));
      expect(new Set(dates.map(({ wheel, slot, zone }) => `${wheel} ${slot} ${zone}`)).size).toBe(1);
      expect(new Set(dates.map(({ camera }) => JSON.stringify(camera.translationMm))).size).toBe(4);
      const grown = dates.map(({ defects }) =>
        defects.reduce(
          (sum, { kind, lengthMm, areaMm2, depthMm }) =>
            sum + (lengthMm ?? 0) + (kind === 'wear' ? 100 * depthMm : (areaMm2 ?? 0)),
          0,
        ),
      );
      for (let n = 1; n < 4; n += 1)
        expect(grown[n], `${name}-${n + 1}`).toBeGreaterThan(must(grown[n - 1], 'date'));
    }
  });

  test('has an index that says what is there', () => {
    expect(readFileSync(join(folder, 'INDEX.md'), 'utf8')).toBe(indexText(readTruths()));
  });

  test('carries orientation and focal length in EXIF, and nothing of place or time', async () => {
    for (const { file, orientation, widthPx, heightPx } of truths) {
      const {
        exif,
        orientation: stored,
        autoOrient,
      } = await sharp(join(folder, 'pictures', file)).metadata();
      expect(stored, file).toBe(orientation);
      expect([autoOrient.width, autoOrient.height], file).toEqual([widthPx, heightPx]);
      const text = must(exif, 'EXIF').toString('latin1');
      expect(text).toContain('not a photograph');
      expect(text).not.toMatch(/\d{4}:\d{2}:\d{2}/);
    }
    expect(new Set(truths.map(({ orientation }) => orientation)).size).toBeGreaterThanOrEqual(3);
  });

  test('has a mask for each picture with a defect, of its size, with its classes and no others', async () => {
    const classes: Readonly<Record<string, number>> = {
      crack: 1,
      corrosion: 2,
      pitting: 3,
      wear: 4,
      broken: 5,
      galling: 6,
      nick: 7,
    };
    for (const { file, mask, defects, widthPx, heightPx } of truths) {
      expect(mask === null, file).toBe(defects.length === 0);
      if (mask === null) continue;
      const { data, info } = await sharp(join(folder, 'pictures', mask))
        .extractChannel(0)
        .raw()
        .toBuffer({ resolveWithObject: true });
      expect([info.width, info.height, info.channels], file).toEqual([widthPx, heightPx, 1]);
      const found = new Set(data);
      found.delete(0);
      expect(found, file).toEqual(new Set(defects.map(({ kind }) => must(classes[kind], kind))));
    }
  }, 120_000);
});

describe('the truth of a crack', () => {
  test('is the same in px and in millimetres under the stated camera', () => {
    expect(cracks.length).toBeGreaterThan(15);
    for (const { file, branches } of cracks) {
      const { camera } = named(file.replace('.jpg', ''));
      for (const { px, rimMm } of branches) {
        rimMm.forEach((point, index) => {
          expect(apart(project(camera, point), must(px[index], 'pixel')), file).toBeLessThan(0.15);
        });
      }
    }
  });

  test('has a length that is the sum of its chords, none longer than 5 mm', () => {
    for (const { file, branches, lengthMm, longestMm, tipToTipMm } of cracks) {
      const lengths = branches.map(({ rimMm, mm }) => {
        const chords = rimMm.slice(1).map((point, index) => apart(point, must(rimMm[index], 'point')));
        expect(Math.max(...chords), file).toBeLessThanOrEqual(5);
        const sum = chords.reduce((a, b) => a + b, 0);
        expect(Math.abs(sum - mm), file).toBeLessThan(0.15);
        return mm;
      });
      expect(lengthMm).toBeCloseTo(
        lengths.reduce((a, b) => a + b, 0),
        1,
      );
      expect(longestMm).toBeCloseTo(Math.max(...lengths), 1);
      const main = must(branches[0], 'branch').rimMm;
      expect(tipToTipMm).toBeCloseTo(apart(must(main[0], 'tip'), must(main.at(-1), 'tip')), 1);
    }
  });

  test('lies on the section of its rim, but for wear and weld', () => {
    for (const { file, branches, component } of cracks) {
      const { designation, construction, zone } = named(file.replace('.jpg', ''));
      // The disc is not a lathed outline of the section.
      if (zone === 'stud holes') continue;
      const size = parseDesignation(designation);
      if (!size.ok) throw new Error(size.error.message);
      const section = sectionOf(constructionOf(construction), size.value);
      const bore = (must(size.value.diameterCode, 'code') * 25.4) / 2 - section.seatY;
      const outline = must(
        section.parts.find(({ slot }) => slot === component)?.outlines[0],
        `outline of ${component}`,
      );
      for (const [x, y, z] of branches.flatMap(({ rimMm }) => rimMm)) {
        const away = distanceToOutline([x, Math.hypot(y, z) - bore], outline);
        expect(away, `${file} at ${x} ${y} ${z}`).toBeLessThan(4.5);
      }
    }
  });
});

function distanceToOutline(
  [px, py]: readonly [number, number],
  outline: readonly (readonly [number, number])[],
): number {
  return Math.min(
    ...outline.map(([ax, ay], index) => {
      const [bx, by] = must(outline[(index + 1) % outline.length], 'corner');
      const length = (bx - ax) ** 2 + (by - ay) ** 2;
      const along = length === 0 ? 0 : ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length;
      const t = Math.max(0, Math.min(1, along));
      return Math.hypot(px - ax - t * (bx - ax), py - ay - t * (by - ay));
    }),
  );
}

describe('the truth of a scale', () => {
  test('puts the markers of a card where its layout has them', () => {
    const cards = truths.filter(({ scale }) => scale?.source === 'scale card');
    for (const { file, scale, camera } of cards) {
      if (scale?.source !== 'scale card') continue;
      const layout = cardLayout(scale.layout);
      const onCard: [number, number][] = [
        [0, 0],
        [layout.widthMm, 0],
        [layout.widthMm, layout.heightMm],
        [0, layout.heightMm],
      ];
      const flat = (px: readonly [number, number]) => PointPx.parse(straightened(camera, px));
      const map = homographyFrom(scale.cardCorners.map(flat), onCard);
      if (!map.ok) throw new Error(map.error.message);
      for (const marker of layout.markers) {
        const truth = must(
          scale.markers.find(({ id }) => id === marker.id),
          `marker ${marker.id}`,
        );
        markerCorners(marker).forEach((point, index) => {
          const found = mapPoint(map.value, flat(must(truth.corners[index], 'corner')));
          expect(apart(found, point), file).toBeLessThan(0.3 * camera.mmPerPx);
        });
      }
    }
  });

  test('spaces the marks of a tape evenly, as far as the view is even', () => {
    const tapes = truths.filter(({ scale }) => scale?.source === 'steel tape');
    for (const { file, scale } of tapes) {
      if (scale?.source !== 'steel tape') continue;
      const steps = scale.marks
        .slice(1)
        .map(({ px }, index) => apart(px, must(scale.marks[index], 'mark').px));
      for (let n = 1; n < steps.length; n += 1) {
        const ratio = must(steps[n], 'step') / must(steps[n - 1], 'step');
        expect(Math.abs(ratio - 1), file).toBeLessThan(0.12);
      }
      const [first, last] = [must(scale.marks[0], 'mark'), must(scale.marks.at(-1), 'mark')];
      expect(scale.lengthMm).toBe(last.mm - first.mm);
    }
  });
});

describe('the layouts of the scale card', () => {
  test('keep their markers apart, inside the card, with a white border of one cell', () => {
    const ids = cardLayouts.flatMap(({ markers }) => markers.map(({ id }) => id));
    expect(new Set(ids).size).toBe(ids.length);
    for (const { markers, widthMm, heightMm } of cardLayouts) {
      for (const { leftMm, topMm, sideMm } of markers) {
        const cell = sideMm / 6;
        expect(Math.min(leftMm, topMm, widthMm - leftMm - sideMm, heightMm - topMm - sideMm)).toBeGreaterThan(
          cell,
        );
      }
    }
  });

  test('have markers that differ in at least three cells under any turn', () => {
    const turned = (cells: readonly (readonly boolean[])[]) =>
      [0, 1, 2, 3].map((row) => [0, 1, 2, 3].map((col) => must(cells[3 - col]?.[row], 'cell')));
    const ids = cardLayouts.flatMap(({ markers }) => markers.map(({ id }) => id));
    for (const a of ids) {
      for (const b of ids.filter((id) => id > a)) {
        let cells = markerCells(b);
        for (let turn = 0; turn < 4; turn += 1) {
          const differ = markerCells(a)
            .flat()
            .filter((cell, index) => cell !== cells.flat()[index]).length;
          expect(differ).toBeGreaterThanOrEqual(3);
          cells = turned(cells);
        }
      }
    }
  });
});
