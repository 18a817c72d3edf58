import { createHash } from 'node:crypto';
import { appendFileSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { storePhoto } from '../../app/_server/photos.ts';
import { OPEN_UPLOADS_MAX } from '../../lib/store/server/index.ts';
import { CAMERA_TAGS, fixture, grain } from '../imaging/pictures.ts';
import { NORTH, problemOf, SOUTH, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  cookie = await signIn('ada@rims.example');
});

function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

interface Piece {
  readonly from?: number;
  readonly to?: number;
  readonly name?: string;
  readonly sha256?: string;
  readonly length?: number;
  readonly site?: string;
  readonly as?: string;
}

function piece(photo: Uint8Array, given: Piece = {}): Promise<Response> {
  const { from = 0, to = photo.length, name = 'rim.jpg', sha256 = hashOf(photo) } = given;
  return send('PATCH', `/api/v1/photos/${sha256}?site=${given.site ?? NORTH}`, {
    cookie: given.as ?? cookie,
    bytes: photo.subarray(from, to),
    headers: {
      'Upload-Offset': String(from),
      'Upload-Length': String(given.length ?? photo.length),
      'Upload-Name': encodeURIComponent(name),
    },
  });
}

function get(photo: Uint8Array, size: string, headers: Record<string, string> = {}): Promise<Response> {
  return send('GET', `/api/v1/photos/${hashOf(photo)}/${size}?site=${NORTH}`, { cookie, headers });
}

async function dataFiles(shelf: string): Promise<string[]> {
  const { settings } = await serverContext();
  return readdirSync(join(settings.dataFolder, shelf), { recursive: true, encoding: 'utf8' });
}

describe('sending a photo', () => {
  it('in pieces resumes from what the server has and ends with the facts', async () => {
    const photo = await grain(500, 400, 2).withExif(CAMERA_TAGS).jpeg().toBuffer();
    const half = Math.floor(photo.length / 2);
    const first = await piece(photo, { to: half, name: 'Flansch ä.jpg' });
    expect([first.status, await first.json()]).toEqual([200, { offset: half }]);
    const state = await send('HEAD', `/api/v1/photos/${hashOf(photo)}?site=${NORTH}`, { cookie });
    expect(state.headers.get('upload-offset')).toBe(String(half));
    expect(state.headers.get('upload-length')).toBe(String(photo.length));
    expect(state.headers.get('upload-complete')).toBe('?0');
    const last = await piece(photo, { from: half });
    expect([last.status, await last.json()]).toEqual([
      201,
      {
        offset: photo.length,
        facts: {
          sha256: hashOf(photo),
          bytes: photo.length,
          name: 'Flansch ä.jpg',
          format: 'jpeg',
          width: 500,
          height: 400,
          capturedAt: '2026-03-01T10:11:12+02:00',
          focalLengthMm: 5.7,
          focalLength35Mm: 26,
          locationPresent: true,
        },
      },
    ]);
    const done = await send('HEAD', `/api/v1/photos/${hashOf(photo)}?site=${NORTH}`, { cookie });
    expect(done.headers.get('upload-complete')).toBe('?1');
    const again = await piece(photo);
    expect(again.status).toBe(200);
    expect(await again.json()).toMatchObject({ offset: photo.length, facts: { sha256: hashOf(photo) } });
  });

  it('at the wrong place is told the right one', async () => {
    const photo = await grain(100, 100, 3).jpeg().toBuffer();
    const early = await problemOf(await piece(photo, { from: 10 }));
    expect(early).toMatchObject({ status: 409, code: 'upload-offset', offset: 0 });
    await piece(photo, { to: 20 });
    const gap = await problemOf(await piece(photo, { from: 30 }));
    expect(gap).toMatchObject({ status: 409, offset: 20, wayOut: 'Send on from byte 20.' });
    const repeat = await problemOf(await piece(photo, { to: 20 }));
    expect(repeat).toMatchObject({ status: 409, offset: 20 });
    expect((await piece(photo, { from: 20 })).status).toBe(201);
  });

  it('keeps one length and never takes more than that', async () => {
    const photo = await grain(100, 100, 4).jpeg().toBuffer();
    await piece(photo, { to: 20 });
    const other = await piece(photo, { from: 20, to: 40, length: photo.length + 1 });
    expect(await problemOf(other)).toMatchObject({ status: 422, code: 'upload-length' });
    const more = await piece(await grain(99, 99, 4).jpeg().toBuffer(), { length: 10 });
    expect(await problemOf(more)).toMatchObject({ status: 422, code: 'upload-length' });
  });

  it('whose bytes do not have the announced hash is refused and discarded', async () => {
    const photo = await grain(100, 100, 5).jpeg().toBuffer();
    const sha256 = 'c'.repeat(64);
    expect(await problemOf(await piece(photo, { sha256 }))).toMatchObject({
      status: 422,
      code: 'photo-hash',
    });
    expect((await send('HEAD', `/api/v1/photos/${sha256}?site=${NORTH}`, { cookie })).status).toBe(404);
    expect((await dataFiles('uploads')).filter((file) => file.includes(sha256))).toEqual([]);
  });

  it('whose server stopped after the last byte is completed by an empty piece', async () => {
    const photo = await grain(100, 100, 13).jpeg().toBuffer();
    const half = Math.floor(photo.length / 2);
    await piece(photo, { to: half });
    const { uploads } = await serverContext();
    appendFileSync(uploads.file(NORTH, hashOf(photo)), photo.subarray(half));
    const state = await send('HEAD', `/api/v1/photos/${hashOf(photo)}?site=${NORTH}`, { cookie });
    expect(state.headers.get('upload-offset')).toBe(String(photo.length));
    expect(state.headers.get('upload-complete')).toBe('?0');
    expect((await piece(photo, { from: photo.length })).status).toBe(201);
  });

  it('at the same moment twice is written once', async () => {
    const photo = await grain(800, 600, 6).jpeg().toBuffer();
    const replies = await Promise.all([piece(photo), piece(photo), piece(photo)]);
    const statuses = replies.map((reply) => reply.status);
    expect(statuses.filter((status) => status === 201)).toHaveLength(1);
    expect(statuses.every((status) => [200, 201, 409].includes(status))).toBe(true);
    const original = await get(photo, 'original');
    expect(Buffer.from(await original.arrayBuffer()).equals(photo)).toBe(true);
  });

  it('that is refused is remembered and leaves nothing behind', async () => {
    const whole = await grain(640, 480, 7).jpeg().toBuffer();
    const photo = whole.subarray(0, Math.floor(whole.length * 0.6));
    const first = await problemOf(await piece(photo));
    expect(first).toMatchObject({ status: 422, code: 'photo-damaged' });
    const again = await problemOf(await piece(photo, { to: 10 }));
    expect(again).toEqual(first);
    const { blobs } = await serverContext();
    expect(await blobs.size(hashOf(photo))).toBeUndefined();
    expect((await dataFiles('uploads')).filter((file) => file.includes(hashOf(photo)))).toEqual([]);
  });

  it('that is an SVG or too large is refused', async () => {
    const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>');
    expect((await problemOf(await piece(svg))).code).toBe('photo-format');
    const large = await piece(Buffer.alloc(10), { length: 40_000_001 });
    expect(await problemOf(large)).toMatchObject({ status: 422, code: 'photo-bytes' });
  });

  it.each(['../../secret', 'a/b.jpg', 'a\0b.jpg', 'x'.repeat(201)])('named %j is refused', async (name) => {
    const photo = await grain(100, 100, 8).jpeg().toBuffer();
    expect(await problemOf(await piece(photo, { name }))).toMatchObject({ status: 422, code: 'photo-name' });
  });

  it('with headers that are no numbers or not encoded is refused by header', async () => {
    const to = (headers: Record<string, string>) =>
      send('PATCH', `/api/v1/photos/${'d'.repeat(64)}?site=${NORTH}`, {
        cookie,
        bytes: Buffer.alloc(4),
        headers,
      });
    expect((await problemOf(await to({ 'Upload-Length': '4' }))).field).toBe('Upload-Offset');
    expect((await problemOf(await to({ 'Upload-Offset': '0', 'Upload-Length': '-4' }))).field).toBe(
      'Upload-Length',
    );
    const name = { 'Upload-Offset': '0', 'Upload-Length': '4', 'Upload-Name': '%E0%A4%A' };
    expect((await problemOf(await to(name))).field).toBe('Upload-Name');
  });

  it('takes pieces of 4 MB at most', async () => {
    const bytes = Buffer.alloc(4_000_001);
    expect((await problemOf(await piece(bytes))).status).toBe(413);
  });

  it('under an address that is no hash is not there', async () => {
    const photo = Buffer.alloc(4);
    for (const sha256 of ['..%2f..%2fsecret', 'A'.repeat(64), 'a'.repeat(63)]) {
      expect((await piece(photo, { sha256 })).status).toBe(404);
    }
  });

  it(`is limited to ${OPEN_UPLOADS_MAX} begun photos per person`, async () => {
    const sol = await signIn('sol@rims.example');
    const begin = (n: number) =>
      piece(Buffer.alloc(4), {
        sha256: n.toString(16).padStart(64, '0'),
        length: 100,
        site: SOUTH,
        as: sol,
      });
    for (let n = 0; n < OPEN_UPLOADS_MAX; n += 1) expect((await begin(n)).status).toBe(200);
    expect(await problemOf(await begin(999))).toMatchObject({ status: 429, code: 'upload-quota' });
    const { store } = await serverContext();
    store.sqlite.exec(`UPDATE upload SET touched_at = '2020-01-01T00:00:00.000Z' WHERE person = 'sol'`);
    expect((await begin(999)).status).toBe(200);
  });
});

describe('loading a photo from the server itself', () => {
  it('stores it as one that was sent, once, and refuses alike', async () => {
    const context = await serverContext();
    const content = await grain(300, 300, 21).jpeg().toBuffer();
    const given = { site: NORTH, person: 'ada', name: 'loaded.jpg', content };
    const first = await storePhoto(context, given);
    expect(first).toMatchObject({ ok: true, value: { sha256: hashOf(content), name: 'loaded.jpg' } });
    expect(await storePhoto(context, given)).toEqual(first);
    expect((await get(content, '320')).status).toBe(200);
    const cut = { ...given, content: content.subarray(0, content.length / 2) };
    expect(await storePhoto(context, cut)).toMatchObject({ ok: false, error: { code: 'photo-damaged' } });
  });
});

describe('a stored photo', () => {
  it('is given back byte for byte, as a download of its true type', async () => {
    const photo = await grain(300, 200, 10).withExif(CAMERA_TAGS).png().toBuffer();
    await piece(photo, { name: 'claims.jpg' });
    const response = await get(photo, 'original');
    expect(Buffer.from(await response.arrayBuffer()).equals(photo)).toBe(true);
    expect(Object.fromEntries(response.headers)).toMatchObject({
      'content-type': 'image/png',
      'content-length': String(photo.length),
      'content-disposition': `attachment; filename="${hashOf(photo).slice(0, 16)}.png"`,
      'x-content-type-options': 'nosniff',
      'cache-control': 'private, max-age=31536000, immutable',
    });
  });

  it('is not sent again to a caller who has it', async () => {
    const photo = await grain(300, 200, 10).withExif(CAMERA_TAGS).png().toBuffer();
    const etag = (await get(photo, '320')).headers.get('etag') ?? '';
    expect(etag).toContain(hashOf(photo));
    const again = await get(photo, '320', { 'if-none-match': etag });
    expect([again.status, await again.text()]).toEqual([304, '']);
    expect((await get(photo, '1024', { 'if-none-match': etag })).status).toBe(200);
    expect((await get(photo, '640')).status).toBe(404);
  });

  it('has its derived pictures made again when they are missing', async () => {
    const photo = fixture('turned.heic');
    expect((await piece(photo, { name: 'turned.heic' })).status).toBe(201);
    const before = Buffer.from(await (await get(photo, '320')).arrayBuffer());
    const { settings } = await serverContext();
    rmSync(join(settings.dataFolder, 'derived'), { recursive: true });
    const after = Buffer.from(await (await get(photo, '320')).arrayBuffer());
    expect(after.equals(before)).toBe(true);
    expect(await sharp(after).metadata()).toMatchObject({ format: 'webp', width: 240, height: 320 });
  });

  it('lies once although two sites sent it, with one position kept and one dropped', async () => {
    const { store } = await serverContext();
    store.sqlite.exec(`UPDATE site SET keep_location = 1 WHERE id = '${SOUTH}'`);
    store.sqlite.exec(`DELETE FROM upload`);
    const photo = await grain(320, 200, 11).withExif(CAMERA_TAGS).jpeg().toBuffer();
    const sol = await signIn('sol@rims.example');
    expect((await piece(photo)).status).toBe(201);
    expect((await piece(photo, { site: SOUTH, as: sol })).status).toBe(201);
    const files = (await dataFiles('photos')).filter((file) => file.includes(hashOf(photo)));
    expect(files).toEqual([join(hashOf(photo).slice(0, 2), hashOf(photo))]);
    const exif = async (as: string, site: string) => {
      const path = `/api/v1/photos/${hashOf(photo)}/320?site=${site}`;
      const picture = Buffer.from(await (await send('GET', path, { cookie: as })).arrayBuffer());
      return (await sharp(picture).metadata()).exif;
    };
    expect(await exif(cookie, NORTH)).toBeUndefined();
    expect(await exif(sol, SOUTH)).toBeDefined();
  });

  it('whose original is gone from the disk is answered with what to do', async () => {
    const photo = await grain(200, 200, 12).jpeg().toBuffer();
    await piece(photo);
    const { blobs } = await serverContext();
    expect(readFileSync(blobs.path(hashOf(photo))).equals(photo)).toBe(true);
    rmSync(blobs.path(hashOf(photo)));
    const log = vi.spyOn(console, 'error').mockImplementation(() => {});
    onTestFinished(() => log.mockRestore());
    expect(await problemOf(await get(photo, 'original'))).toMatchObject({
      status: 500,
      code: 'photo-original',
      detail: expect.stringContaining('restore'),
    });
  });
});
