import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { serverContext } from '../../app/_server/context.ts';
import { NORTH, send } from './support.ts';

/** Cookie used where a request names none; set by the test file once somebody is signed in. */
export const session = { cookie: '' };

export function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

export interface Piece {
  readonly from?: number;
  readonly to?: number;
  readonly name?: string;
  readonly sha256?: string;
  readonly length?: number;
  readonly site?: string;
  readonly as?: string;
}

export function piece(photo: Uint8Array, given: Piece = {}): Promise<Response> {
  const { from = 0, to = photo.length, name = 'rim.jpg', sha256 = hashOf(photo) } = given;
  return send('PATCH', `/api/v1/photos/${sha256}?site=${given.site ?? NORTH}`, {
    cookie: given.as ?? session.cookie,
    bytes: photo.subarray(from, to),
    headers: {
      'Upload-Offset': String(from),
      'Upload-Length': String(given.length ?? photo.length),
      'Upload-Name': encodeURIComponent(name),
    },
  });
}

export function get(
  photo: Uint8Array,
  size: string,
  headers: Record<string, string> = {},
): Promise<Response> {
  return send('GET', `/api/v1/photos/${hashOf(photo)}/${size}?site=${NORTH}`, {
    cookie: session.cookie,
    headers,
  });
}

export async function dataFiles(shelf: string): Promise<string[]> {
  const { settings } = await serverContext();
  return readdirSync(join(settings.dataFolder, shelf), { recursive: true, encoding: 'utf8' });
}
