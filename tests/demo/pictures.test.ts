import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { must } from '../../lib/base/index.ts';
import { sceneOfPhoto, sectionOfWheel } from '../../lib/photo/index.ts';
import { constructionOf } from '../../lib/wheel/index.ts';
import { cutDetails, placesToCut } from '../../tools/demo/details.ts';
import { wheelOf } from '../../tools/demo/fleet.ts';
import { showsScale, simplified } from '../../tools/demo/marking.ts';
import { nameOf, type Picture, pictureBytes } from '../../tools/demo/pictures.ts';
import { inspectionKey } from '../../tools/demo/rounds.ts';
import { shots } from '../../tools/demo/shots.ts';
import { measureShape } from '../support/measureShape.ts';
import { daysAgo, inspections, photos, register, told, wheelKeyOf } from './told.ts';

const { pictures, details } = photos;

/** Where a picture was attached: the inspection and what was written there. */
function attached(picture: Picture) {
  return inspections.flatMap(({ key, state }) => {
    const photo = state.photos.get(picture.sha256);
    return photo === undefined ? [] : [{ key, state, body: photo.value }];
  });
}

describe('the pictures', () => {
  test('are those of the plan, all of them', () => {
    expect([...pictures.keys()].sort()).toEqual(Object.keys(shots).sort());
  });

  test('are the files that their truth speaks of, of the size it says when upright', async () => {
    for (const picture of pictures.values()) {
      const content = pictureBytes(picture);
      expect(content.length, picture.file).toBe(picture.bytes);
      expect(createHash('sha256').update(content).digest('hex'), picture.file).toBe(picture.sha256);
      const { autoOrient } = await sharp(content).metadata();
      expect([autoOrient.width, autoOrient.height], picture.file).toEqual([
        picture.widthPx,
        picture.heightPx,
      ]);
    }
  });

  test('show wheels of the fleet, in slots and zones that these have', () => {
    for (const { wheel, designation, construction, slot, zone, file } of pictures.values()) {
      const { machine } = wheelOf(wheel);
      expect([machine.designation, machine.construction], file).toEqual([designation, construction]);
      const zones = constructionOf(construction).slots.find((one) => one.slot === slot)?.zones ?? [];
      expect(
        zones.map((one) => one.zone),
        file,
      ).toContain(zone);
    }
  });

  test('have everything that is marked in them inside the frame', () => {
    for (const { widthPx, heightPx, defects, file } of pictures.values()) {
      const lines = [
        ...defects.flatMap(({ branches, outlines }) => [...branches.map(({ px }) => px), ...outlines]),
      ];
      for (const [x, y] of lines.flat()) {
        expect([x >= -0.5 && x <= widthPx - 0.5, y >= -0.5 && y <= heightPx - 0.5], file).toEqual([
          true,
          true,
        ]);
      }
    }
  });

  test('are each attached once, to the wheel, part, zone and clock that they show, on their day', () => {
    for (const picture of pictures.values()) {
      const places = attached(picture);
      expect(places.length, picture.file).toBe(1);
      const { key, state, body } = must(places[0], picture.file);
      expect(key).toBe(
        inspectionKey({ wheel: picture.wheel, round: must(shots[nameOf(picture)], picture.file).round }),
      );
      expect([wheelKeyOf(state), body.zone, body.name], picture.file).toEqual([
        picture.wheel,
        picture.zone,
        picture.file,
      ]);
      expect(Math.abs((body.clock ?? 0) - picture.clock), picture.file).toBeLessThanOrEqual(0.25);
      const stays = register.components.get(body.component)?.fitments ?? [];
      const at = must(state.photos.get(picture.sha256), 'photo').at;
      const there = stays.find((stay) => stay.from <= at && (stay.until === null || at < stay.until));
      expect([there?.wheel, there?.slot], picture.file).toEqual([state.wheel, picture.slot]);
      if (picture.daysAgo !== null) {
        expect(daysAgo(must(state.opened, 'opened').at), picture.file).toBe(picture.daysAgo);
      }
    }
  });

  test('have their scale set where they show it whole, which most do', () => {
    for (const picture of pictures.values()) {
      const [place] = attached(picture);
      const set = place?.state.scales.get(picture.sha256)?.value;
      expect(set?.scale.source ?? null, picture.file).toBe(
        picture.scale === null || !showsScale(picture)
          ? null
          : picture.scale.source === 'scale card'
            ? 'scale card'
            : 'known length',
      );
    }
  });

  test('show their scale whole, but for a few', () => {
    const withScale = [...pictures.values()].filter((picture) => picture.scale !== null);
    expect(withScale.filter(showsScale).length).toBeGreaterThan(0.9 * withScale.length);
  });

  test('carry marks as the inspector dealt with them', () => {
    for (const picture of pictures.values()) {
      const { dealt } = must(shots[nameOf(picture)], picture.file);
      const { state, body } = must(attached(picture)[0], picture.file);
      const marks = [
        ...[...state.marks.values()].filter(({ value }) => value.photo === picture.sha256),
        ...[...state.defects.values()].filter(
          ({ value }) => value.component === body.component && value.zone === body.zone,
        ),
      ];
      const shapes = picture.defects.filter((one) => one.visibleShare > 0);
      const cracks = shapes.filter(({ kind }) => kind === 'crack');
      const expected = {
        drawn: shapes.length,
        'drawn short': shapes.length,
        overlooked: 0,
        'crack overlooked': shapes.length - cracks.length,
        'mistaken for a crack': 1,
      }[dealt];
      expect(marks.length, picture.file).toBe(expected);
      if (dealt === 'overlooked' || dealt === 'crack overlooked' || dealt === 'drawn short') {
        expect(shapes.length, picture.file).toBeGreaterThan(0);
      }
      if (dealt === 'mistaken for a crack') expect(shapes, picture.file).toEqual([]);
    }
  });

  test('give the true length of a crack drawn in full, within what the measure says', () => {
    let measured = 0;
    for (const picture of pictures.values()) {
      const { dealt } = must(shots[nameOf(picture)], picture.file);
      const [truth, ...more] = picture.defects.filter(({ kind }) => kind === 'crack');
      const { state } = must(attached(picture)[0], picture.file);
      const scene = sceneOfPhoto(state, picture.sha256, sectionOfWheel(picture));
      if (dealt !== 'drawn' || truth?.lengthMm === undefined || more.length > 0 || scene === null) continue;
      const mark = must(
        [...state.marks.values()].find(
          ({ value }) => value.photo === picture.sha256 && value.defect === 'crack',
        ),
        picture.file,
      ).value;
      const size = measureShape({ shape: mark.shape, zone: mark.zone, slot: picture.slot }, scene);
      if (!size.ok) throw new Error(`${picture.file}: ${size.error.message}`);
      const off = Math.abs(size.value.value - truth.lengthMm);
      expect(off, `${picture.file}: ${size.value.value} for ${truth.lengthMm}`).toBeLessThan(
        3.5 * size.value.u,
      );
      measured += 1;
    }
    expect(measured).toBeGreaterThan(8);
  });
});

describe('the readings', () => {
  test('say what the pictures show of gaps and worn steps', () => {
    for (const picture of pictures.values()) {
      const { key, state, body } = must(attached(picture)[0], picture.file);
      const values = [...state.readings.values()]
        .map(({ value }) => value)
        .filter((value) => value.component === body.component && value.zone === picture.zone);
      if (picture.gapMm !== null) {
        const fitted = values.find((value) => value.state === 'fitted');
        expect(Math.abs((fitted?.valueMm ?? 99) - picture.gapMm), key).toBeLessThan(2.5);
      }
      if (picture.wearMm !== null && picture.zone === 'flange contact face') {
        const steps = values.filter((value) => value.clock === body.clock).map((value) => value.valueMm);
        expect(Math.abs((steps[0] ?? 99) - picture.wearMm), key).toBeLessThan(0.3);
      }
    }
  });
});

describe('the photos of sound places', () => {
  test('stand where an inspection asks for a photo and no picture was made, each attached once', () => {
    expect(details.size).toBe(placesToCut(pictures).length);
    const hashes = [...details.values()].map((detail) => detail.sha256);
    expect(new Set(hashes).size).toBe(hashes.length);
    for (const hash of hashes) {
      expect(inspections.filter(({ state }) => state.photos.has(hash))).toHaveLength(1);
    }
  });

  test('are cut to one size, all different, and the same bytes each time', async () => {
    const cut = await cutDetails(pictures);
    expect([...cut.keys()]).toEqual([...details.keys()]);
    const hashes = [...cut.values()].map((detail) => detail.sha256);
    expect(new Set(hashes).size).toBe(hashes.length);
    for (const { content, sha256, bytes, widthPx, heightPx } of cut.values()) {
      expect(createHash('sha256').update(content).digest('hex')).toBe(sha256);
      expect([content.length, content.subarray(0, 3).toString('hex')]).toEqual([bytes, 'ffd8ff']);
      expect([widthPx, heightPx]).toEqual([800, 600]);
    }
    const { width, height } = await sharp(must([...cut.values()][0], 'a detail').content).metadata();
    expect([width, height]).toEqual([800, 600]);
    expect([...(await cutDetails(pictures)).values()].map((detail) => detail.sha256)).toEqual(hashes);
  }, 120_000);

  test('complete the inspections that were photographed', () => {
    const { state } = told('WC-05 front left, now');
    expect(state.photos.size).toBeGreaterThanOrEqual(8);
    expect(state.submission?.value.verdict.parts).toMatchObject([
      { result: 'keep' },
      { result: 'keep' },
      { result: 'keep' },
    ]);
  });
});

describe('a line followed by hand', () => {
  test('keeps its ends and stays within the tolerance', () => {
    const wave = Array.from({ length: 200 }, (_, i): [number, number] => [i * 5, 40 * Math.sin(i / 12)]);
    const kept = simplified(wave, 2);
    expect([kept[0], kept.at(-1)]).toEqual([wave[0], wave.at(-1)]);
    expect(kept.length).toBeLessThan(40);
    const away = wave.map(([x, y]) =>
      Math.min(
        ...kept.slice(1).map(([bx, by], index) => {
          const [ax, ay] = must(kept[index], 'a point');
          const share = Math.min(
            1,
            Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)),
          );
          return Math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay));
        }),
      ),
    );
    expect(Math.max(...away)).toBeLessThanOrEqual(2);
  });

  test('of two points stays as it is', () => {
    expect(
      simplified(
        [
          [1, 2],
          [3, 4],
        ],
        5,
      ),
    ).toEqual([
      [1, 2],
      [3, 4],
    ]);
  });
});
