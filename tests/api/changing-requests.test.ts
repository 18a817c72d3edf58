import { beforeAll, describe, expect, it } from 'vitest';
import { anEntry, ORIGIN, problemOf, send, signIn, twoSites, withServer } from './support.ts';

withServer(twoSites);

let cookie = '';
beforeAll(async () => {
  cookie = await signIn('ada@rims.example');
});

describe('requests that change something', () => {
  const post = (headers: Record<string, string>, json: unknown = { entries: [anEntry()] }) =>
    send('POST', '/api/v1/entries', { cookie, json, headers });

  it('are taken from our own origin only', async () => {
    expect((await post({ origin: ORIGIN, 'sec-fetch-site': 'same-origin' })).status).toBe(200);
    const foreign: ReadonlyArray<Record<string, string>> = [
      { origin: 'https://evil.example' },
      { origin: 'null' },
      { origin: `${ORIGIN}.evil.example` },
      { origin: ORIGIN, 'sec-fetch-site': 'cross-site' },
      { origin: ORIGIN, 'sec-fetch-site': 'same-site' },
    ];
    for (const headers of foreign) {
      expect(await problemOf(await post(headers))).toMatchObject({ status: 403, code: 'cross-origin' });
    }
  });

  it('are taken from this machine and the local network when they went to that very address', async () => {
    const to = (address: string, host = address) => post({ origin: `http://${address}`, host });
    for (const own of ['localhost:3000', '127.0.0.1:8080', '[::1]:3000', '192.168.7.2:3000', '10.1.2.3']) {
      expect([own, (await to(own)).status]).toEqual([own, 200]);
    }
    for (const foreign of ['rebound.example:3000', '203.0.113.9:3000', '[2001:db8::1]:3000', '172.32.0.1']) {
      expect([foreign, (await to(foreign)).status]).toEqual([foreign, 403]);
    }
    expect((await to('127.0.0.1:8080', 'localhost:3000')).status).toBe(403);
    expect((await to('192.168.7.2:8080', '192.168.7.2:3000')).status).toBe(403);
  });

  it('without any word of where they come from are refused', async () => {
    const { POST } = await import('../../app/api/v1/entries/route.ts');
    const request = new Request(`${ORIGIN}/api/v1/entries`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json' },
      body: '{"entries":[]}',
    });
    expect((await POST(request, { params: Promise.resolve({}) })).status).toBe(403);
  });

  it('are taken as JSON only, which a plain form cannot send', async () => {
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', '']) {
      expect((await post({ 'content-type': type })).status).toBe(415);
    }
    expect((await post({ 'content-type': 'application/json; charset=utf-8' })).status).toBe(200);
  });

  it('that are no JSON are refused', async () => {
    const bytes = Buffer.from('{"entries":');
    const response = await send('POST', '/api/v1/entries', {
      cookie,
      bytes,
      headers: { 'content-type': 'application/json' },
    });
    expect(await problemOf(response)).toMatchObject({ status: 400, code: 'body-json' });
  });

  it('are cut off as soon as they grow past the limit, also without a length', async () => {
    let sent = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(controller) {
        sent += 1_000_000;
        controller.enqueue(new Uint8Array(1_000_000).fill(32));
      },
    });
    const { POST } = await import('../../app/api/v1/entries/route.ts');
    const request = new Request(`${ORIGIN}/api/v1/entries`, {
      method: 'POST',
      headers: { cookie, origin: ORIGIN, 'content-type': 'application/json' },
      body: endless,
      duplex: 'half',
    } as RequestInit);
    const response = await POST(request, { params: Promise.resolve({}) });
    expect(await problemOf(response)).toMatchObject({ status: 413, code: 'body-large' });
    expect(sent).toBeLessThan(12_000_000);
  });
});
