import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { contract } from '../../app/_server/contract/index.ts';
import { grain } from '../imaging/pictures.ts';
import { anEntry, NORTH, problemOf, SOUTH, send, signIn, twoSites, WHEEL, withServer } from './support.ts';

withServer(twoSites);

const INSPECTION = '44444444-4444-4444-8444-444444444444';
let north = '';
let south = '';
let administrator = '';
let photo = Buffer.alloc(0);
let sha256 = '';
let begun = '';

beforeAll(async () => {
  north = await signIn('ada@rims.example');
  south = await signIn('sol@rims.example');
  administrator = await signIn('root@rims.example');
  const entries = [anEntry(), anEntry({ subject: { type: 'wheel', id: WHEEL } })];
  await send('POST', '/api/v1/entries', { cookie: north, json: { entries } });
  photo = await grain(400, 300).jpeg().toBuffer();
  sha256 = createHash('sha256').update(photo).digest('hex');
  await upload(north, NORTH);
  begun = 'b'.repeat(64);
  await send('PATCH', `/api/v1/photos/${begun}?site=${NORTH}`, {
    cookie: north,
    bytes: Buffer.alloc(10),
    headers: { 'Upload-Offset': '0', 'Upload-Length': '100' },
  });
});

function upload(cookie: string, site: string): Promise<Response> {
  return send('PATCH', `/api/v1/photos/${sha256}?site=${site}`, {
    cookie,
    bytes: photo,
    headers: { 'Upload-Offset': '0', 'Upload-Length': String(photo.length), 'Upload-Name': 'rim.jpg' },
  });
}

/** Every read of a site's things, by operation id. */
function reads(site: string): Readonly<Record<string, readonly [string, string]>> {
  return {
    readLog: ['GET', `/api/v1/entries?site=${site}`],
    readSubject: ['GET', `/api/v1/subjects/inspection/${INSPECTION}/entries?site=${site}`],
    readBook: ['GET', `/api/v1/wheels/${WHEEL}/book?site=${site}`],
    readQueue: ['GET', `/api/v1/queue?site=${site}`],
    readEvidence: ['GET', `/api/v1/evidence?site=${site}`],
    readAgreement: ['GET', `/api/v1/agreement?site=${site}`],
    readWear: ['GET', `/api/v1/wear?site=${site}`],
    readWhere: ['GET', `/api/v1/where?site=${site}`],
    listMembers: ['GET', `/api/v1/sites/${site}/people`],
    photoState: ['HEAD', `/api/v1/photos/${sha256}?site=${site}`],
    readPhoto: ['GET', `/api/v1/photos/${sha256}/original?site=${site}`],
  };
}
const SITELESS = ['me', 'listSites', 'listPeople', 'installation', 'describe', 'authRead'];

describe('a site', () => {
  it('has every read of its things in this test', () => {
    const reading = contract
      .filter(({ method }) => method === 'GET' || method === 'HEAD')
      .map(({ id }) => id);
    expect(Object.keys(reads(NORTH)).concat(SITELESS).sort()).toEqual(reading.sort());
  });

  it.each(Object.keys(reads(NORTH)))('is open to its members: %s', async (id) => {
    const [method, path] = reads(NORTH)[id] ?? ['', ''];
    expect((await send(method, path, { cookie: north })).status).toBe(200);
  });

  it.each(Object.keys(reads(NORTH)))(
    'is not there for members of another site or administrators: %s',
    async (id) => {
      const [method, path] = reads(NORTH)[id] ?? ['', ''];
      for (const cookie of [south, administrator]) {
        const refused = await send(method, path, { cookie });
        expect(await problemOf(refused)).toMatchObject({ status: 404, code: 'not-found' });
      }
    },
  );

  it.each(Object.keys(reads(NORTH)))('is not there for nobody: %s', async (id) => {
    const [method, path] = reads(NORTH)[id] ?? ['', ''];
    expect((await send(method, path)).status).toBe(401);
  });

  it('that does not exist is answered exactly as one of others', async () => {
    const unknown = '99999999-9999-4999-8999-999999999999';
    const foreign = await problemOf(await send('GET', `/api/v1/queue?site=${NORTH}`, { cookie: south }));
    const absent = await problemOf(await send('GET', `/api/v1/queue?site=${unknown}`, { cookie: south }));
    expect({ ...absent, value: '' }).toEqual({ ...foreign, value: '' });
  });

  it.each(['readSubject', 'readBook', 'photoState', 'readPhoto'])(
    'does not lend its things to a member of another who names their own: %s',
    async (id) => {
      const [method, path] = reads(SOUTH)[id] ?? ['', ''];
      expect((await send(method, path, { cookie: south })).status).toBe(404);
    },
  );

  it('shows nothing of another in its log, queue and people', async () => {
    const log = await send('GET', `/api/v1/entries?site=${SOUTH}`, { cookie: south });
    expect(await log.json()).toEqual({ entries: [], next: 0, more: false, withheld: [] });
    const queue = await send('GET', `/api/v1/queue?site=${SOUTH}`, { cookie: south });
    expect(await queue.json()).toEqual({ inspections: [], cursor: null });
  });

  it('has its begun uploads for itself', async () => {
    expect((await send('HEAD', `/api/v1/photos/${begun}?site=${NORTH}`, { cookie: north })).status).toBe(200);
    expect((await send('HEAD', `/api/v1/photos/${begun}?site=${SOUTH}`, { cookie: south })).status).toBe(404);
    const resumed = await send('PATCH', `/api/v1/photos/${begun}?site=${SOUTH}`, {
      cookie: south,
      bytes: Buffer.alloc(10),
      headers: { 'Upload-Offset': '10', 'Upload-Length': '100' },
    });
    expect(await problemOf(resumed)).toMatchObject({ status: 409, offset: 0 });
  });

  it('must be sent the whole photo although another has it, and then has it too', async () => {
    const claim = await send('PATCH', `/api/v1/photos/${sha256}?site=${SOUTH}`, {
      cookie: south,
      bytes: new Uint8Array(),
      headers: { 'Upload-Offset': String(photo.length), 'Upload-Length': String(photo.length) },
    });
    expect((await problemOf(claim)).status).toBe(409);
    expect((await upload(south, SOUTH)).status).toBe(201);
    const got = await send('GET', `/api/v1/photos/${sha256}/320?site=${SOUTH}`, { cookie: south });
    expect(got.status).toBe(200);
  });

  it('takes no photo from someone who does not belong there', async () => {
    expect((await upload(south, NORTH)).status).toBe(404);
  });
});
