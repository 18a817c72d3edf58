import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { type Camera, project } from '../../sample-images/simple/camera.ts';
import { shots } from '../../sample-images/simple/shots.ts';
import { truthOf } from '../../sample-images/simple/truth.ts';
import { demoPictures, pictureBytes } from '../../tools/demo/pictures.ts';

const pictures = demoPictures();
const index = readFileSync(join(import.meta.dirname, '..', '..', 'sample-images', 'INDEX.md'), 'utf8');

describe('the simple pictures', () => {
  test('have the truth that their scenes give', () => {
    const truth: unknown = JSON.parse(
      readFileSync(join(import.meta.dirname, '../../sample-images/simple/truth.json'), 'utf8'),
    );
    const again = shots.map((shot) => {
      const { sha256 = '', bytes = 0 } = pictures.get(`${shot.name}.jpg`) ?? {};
      return truthOf(shot, sha256, bytes);
    });
    expect(truth).toEqual(again);
  }, 60_000);

  test('are stored turned as EXIF says, with a date and a focal length', async () => {
    const orientations = new Set<number>();
    let pixelsMost = 0;
    let bytes = 0;
    for (const shot of shots) {
      const picture = pictures.get(`${shot.name}.jpg`);
      if (picture === undefined) throw new Error(`${shot.name} has no picture`);
      const content = pictureBytes(picture);
      const { width, height, orientation = 0, exif } = await sharp(content).metadata();
      expect(orientation).toBe(shot.orientation);
      const lying = orientation >= 5;
      expect([width, height]).toEqual(
        lying ? [picture.heightPx, picture.widthPx] : [picture.widthPx, picture.heightPx],
      );
      expect(exif?.includes(shot.takenAt)).toBe(true);
      orientations.add(orientation);
      pixelsMost = Math.max(pixelsMost, width * height);
      bytes += content.length;
    }
    expect(orientations.has(6)).toBe(true);
    expect(pixelsMost).toBe(12_000_000);
    expect(bytes).toBeLessThan(6_000_000);
  });

  test('stand in the index with the sizes that are true', () => {
    for (const picture of pictures.values()) {
      const row = index.split('\n').find((line) => line.includes(`\`${picture.file}\``)) ?? '';
      for (const { lengthMm } of picture.cracks) expect(row).toContain(`crack ${lengthMm} mm`);
      for (const { areaMm2 } of picture.patches) expect(row).toContain(`rust patch ${areaMm2} mm²`);
      expect(row).toContain(`${picture.widthPx} × ${picture.heightPx}`);
    }
    expect(index).toContain('not photographs of real rims');
    expect(index).toContain('CC0');
  });
});

describe('the camera', () => {
  const camera: Camera = {
    eye: [0, -100, 0],
    at: [0, 0, 0],
    up: [0, 0, 1],
    focal35Mm: 36,
    widthPx: 1001,
    heightPx: 501,
  };

  test('puts the point it looks at in the middle', () => {
    expect(project(camera, [0, 0, 0])).toEqual([500, 250]);
  });

  test('shows its frame’s long side of 36 mm at a distance of the focal length', () => {
    // 36 mm of frame and 36 mm of focal length: at 100 mm the width seen is 100 mm, 1001 px.
    expect(project(camera, [50, 0, 0])).toEqual([1000.5, 250]);
    expect(project(camera, [0, 0, 10])).toEqual([500, 149.9]);
  });
});
