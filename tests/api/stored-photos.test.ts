import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it, onTestFinished, vi } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { CAMERA_TAGS, fixture, grain } from '../imaging/pictures.ts';
import { dataFiles, get, hashOf, piece, session } from './photo-requests.ts';
import { NORTH, problemOf, SOUTH, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  cookie = await signIn('ada@rims.example');
  session.cookie = cookie;
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
