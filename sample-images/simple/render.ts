// Draws the pictures of this folder: node sample-images/simple/render.ts [--small] [NAME …]
// Without names every picture is drawn; truth.json is written anew from the pictures there are.
// --small draws quick previews into a folder of their own; --truth draws nothing.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { draw } from './picture.ts';
import type { Shot } from './shot.ts';
import { shots } from './shots.ts';
import { truthOf } from './truth.ts';

const folder = import.meta.dirname;
const TURN = { 1: 0, 3: 180, 6: 270, 8: 90 } as const;

/** The picture of a shot as a JPEG with EXIF, stored turned as its orientation says. */
async function jpegOf(shot: Shot): Promise<Buffer> {
  const { widthPx: width, heightPx: height, focal35Mm } = shot.camera;
  const pixels = await draw(shot.scene, shot.camera, shot.development);
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .rotate(TURN[shot.orientation])
    .withExif({
      IFD0: { Make: 'Invented', Model: 'Rendered, no camera', Orientation: String(shot.orientation) },
      IFD2: { DateTimeOriginal: shot.takenAt, FocalLengthIn35mmFilm: String(focal35Mm) },
    })
    .withMetadata({ orientation: shot.orientation })
    .jpeg({ quality: shot.camera.widthPx > 2000 ? 72 : 80 })
    .toBuffer();
}

function small(shot: Shot): Shot {
  const { camera } = shot;
  const k = camera.widthPx > 2000 ? 0.2 : 0.4;
  const [widthPx, heightPx] = [Math.round(camera.widthPx * k), Math.round(camera.heightPx * k)];
  return {
    ...shot,
    camera: { ...camera, widthPx, heightPx },
    development: { ...shot.development, blurPx: 0.4 },
  };
}

const words = process.argv.slice(2);
const names = words.filter((word) => !word.startsWith('--'));
const preview = words.includes('--small');
const target = preview ? join(folder, 'preview') : folder;
mkdirSync(target, { recursive: true });
const chosen = words.includes('--truth') ? [] : shots;
for (const shot of chosen.filter(({ name }) => names.length === 0 || names.includes(name))) {
  const began = performance.now();
  const jpeg = await jpegOf(preview ? small(shot) : shot);
  writeFileSync(join(target, `${shot.name}.jpg`), jpeg);
  const seconds = Math.round((performance.now() - began) / 1000);
  console.log(`${shot.name}.jpg ${Math.round(jpeg.length / 1000)} kB, ${seconds} s`);
}
if (!preview) {
  const truths = shots.flatMap((shot) => {
    const path = join(folder, `${shot.name}.jpg`);
    if (!existsSync(path)) return [];
    const jpeg = readFileSync(path);
    return [truthOf(shot, createHash('sha256').update(jpeg).digest('hex'), jpeg.length)];
  });
  writeFileSync(join(folder, 'truth.json'), `${JSON.stringify(truths, null, 1)}\n`);
}
