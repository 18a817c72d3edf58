import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp, { type OutputInfo, type Sharp } from 'sharp';
import { closeServerContext, serverContext } from '../app/_server/context.ts';
import { PIECE_BYTES_MAX } from '../app/_server/contract/photos.ts';
import { receivePiece } from '../app/_server/photos.ts';
import { addSite } from '../lib/store/server/index.ts';

/**
 * What ingesting a 12-megapixel JPEG costs beside the bare picture work: our whole path (pieces written to disk,
 * hash checked twice, picture inspected and decoded once, original and derived pictures synced to disk, database
 * rows) over decoding once and making the same three WebP files in memory. One run, alternating, medians.
 */
const ROUNDS = 9;
const RATIO_MAX = 1.15;
const WIDTH_PX = 4000;
const HEIGHT_PX = 3000;
const SITE = '11111111-1111-4111-8111-111111111111';

async function noisyJpeg(seed: number): Promise<Buffer> {
  const data = Buffer.alloc(WIDTH_PX * HEIGHT_PX * 3);
  let state = seed;
  for (let i = 0; i < data.length; i += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    data[i] = 60 + (state >>> 27) + ((i / (WIDTH_PX * 30)) % 100);
  }
  const raw = { width: WIDTH_PX, height: HEIGHT_PX, channels: 3 as const };
  return sharp(data, { raw }).jpeg({ quality: 90 }).toBuffer();
}

async function bare(photo: Buffer): Promise<void> {
  const size = { height: 16_383, fit: 'inside', withoutEnlargement: true } as const;
  const large = await sharp(photo, { failOn: 'error' })
    .autoOrient()
    .resize({ ...size, width: 2048 })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const files = [encoded(large)];
  const middle = await ofRaw(large)
    .resize({ ...size, width: 1024 })
    .raw()
    .toBuffer({ resolveWithObject: true });
  files.push(encoded(middle));
  const small = await ofRaw(middle)
    .resize({ ...size, width: 320 })
    .raw()
    .toBuffer({ resolveWithObject: true });
  files.push(encoded(small));
  await Promise.all(files);
}

interface Raw {
  readonly data: Buffer;
  readonly info: OutputInfo;
}

function ofRaw({ data, info }: Raw): Sharp {
  const { width, height, channels } = info;
  return sharp(data, { raw: { width, height, channels } });
}

function encoded(raw: Raw): Promise<Buffer> {
  return ofRaw(raw).webp({ quality: 80, effort: 2 }).toBuffer();
}

async function ours(photo: Buffer, sha256: string): Promise<void> {
  const context = await serverContext();
  for (let offset = 0; offset < photo.length; offset += PIECE_BYTES_MAX) {
    const taken = await receivePiece(context, {
      site: SITE,
      sha256,
      person: 'ada',
      offset,
      bytes: photo.length,
      name: 'noise.jpg',
      data: photo.subarray(offset, offset + PIECE_BYTES_MAX),
    });
    if (!taken.ok) throw new Error(taken.error.problem.message);
  }
}

async function timed(work: () => Promise<void>): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

const folder = mkdtempSync(join(tmpdir(), 'rimbook-bench-'));
process.env.RIMBOOK_DATA = folder;
try {
  const { store, now } = await serverContext();
  addSite(store, { id: SITE, name: 'Bench', keepLocation: false, now: now() });
  const bareMs: number[] = [];
  const oursMs: number[] = [];
  for (let round = 0; round <= ROUNDS; round += 1) {
    const photo = await noisyJpeg(round + 1);
    // The sender's work, not ours.
    const sha256 = createHash('sha256').update(photo).digest('hex');
    const first = round % 2 === 0;
    const before = first ? await timed(() => bare(photo)) : undefined;
    const own = await timed(() => ours(photo, sha256));
    const bareTime = before ?? (await timed(() => bare(photo)));
    if (round === 0) continue;
    bareMs.push(bareTime);
    oursMs.push(own);
  }
  const ratio = median(oursMs) / median(bareMs);
  const figures = {
    bench: 'ingest',
    bareMs: Math.round(median(bareMs)),
    oursMs: Math.round(median(oursMs)),
    ratio: Number(ratio.toFixed(3)),
    ratioMax: RATIO_MAX,
    rounds: ROUNDS,
  };
  console.log(JSON.stringify(figures));
  if (ratio > RATIO_MAX) process.exitCode = 1;
} finally {
  await closeServerContext();
  rmSync(folder, { recursive: true, force: true });
}
