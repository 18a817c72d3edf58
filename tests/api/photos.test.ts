import { appendFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { serverContext } from '../../app/_server/context.ts';
import { OPEN_UPLOADS_MAX, type Role } from '../../lib/store/server/index.ts';
import { CAMERA_TAGS, grain } from '../imaging/pictures.ts';
import { dataFiles, get, hashOf, piece, session } from './photo-requests.ts';
import { addPeople, NORTH, problemOf, SOUTH, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  cookie = await signIn('ada@rims.example');
  session.cookie = cookie;
});

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

  it('whose server stopped after the last byte is completed by sending its end again', async () => {
    const photo = await grain(100, 100, 13).jpeg().toBuffer();
    const half = Math.floor(photo.length / 2);
    await piece(photo, { to: half });
    const { uploads } = await serverContext();
    appendFileSync(uploads.file({ site: NORTH, sha256: hashOf(photo), person: 'ada' }), photo.subarray(half));
    const state = await send('HEAD', `/api/v1/photos/${hashOf(photo)}?site=${NORTH}`, { cookie });
    expect(state.headers.get('upload-offset')).toBe(String(photo.length - 1));
    expect(state.headers.get('upload-complete')).toBe('?0');
    expect((await piece(photo, { from: photo.length - 1 })).status).toBe(201);
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

describe('a photo begun by somebody else', () => {
  const person = async (id: string, roles: readonly Role[]) => {
    await addPeople(await serverContext(), [[id, roles]]);
    return signIn(`${id}@rims.example`);
  };

  it('stands in nobody’s way, and ends for all when one has finished it', async () => {
    const photo = await grain(200, 200, 31).jpeg().toBuffer();
    const ivy = await person('ivy', ['inspector']);
    expect((await piece(photo, { to: 10, length: photo.length + 5, as: ivy })).status).toBe(200);
    const half = Math.floor(photo.length / 2);
    expect(await (await piece(photo, { to: half })).json()).toEqual({ offset: half });
    expect((await piece(photo, { from: half })).status).toBe(201);
    const theirs = await piece(photo, { from: 10, to: 20, length: photo.length + 5, as: ivy });
    expect([theirs.status, await theirs.json()]).toMatchObject([200, { offset: photo.length }]);
    expect((await dataFiles('uploads')).filter((file) => file.includes(hashOf(photo)))).toEqual([]);
    const { store } = await serverContext();
    const rows = store.sqlite.prepare('SELECT person FROM upload WHERE sha256 = ?').all(hashOf(photo));
    expect(rows).toEqual([]);
  });

  it('cannot be begun by people who attach no photos', async () => {
    const photo = await grain(200, 200, 32).jpeg().toBuffer();
    const lead = await person('lee', ['lead', 'reviewer']);
    const refused = await problemOf(await piece(photo, { as: lead }));
    expect(refused).toMatchObject({ status: 403, code: 'photo-role', value: 'lead, reviewer' });
  });
});
