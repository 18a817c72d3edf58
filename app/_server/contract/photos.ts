import { z } from 'zod';
import { operation } from './operation.ts';
import { PhotoFactsShape, Sha256, SiteQuery } from './shapes.ts';

/** Largest piece of an upload, bytes. */
export const PIECE_BYTES_MAX = 4_000_000;
const PhotoSize = z.enum(['original', '320', '1024', '2048']);

const Place = z.strictObject({ sha256: Sha256 });

/** Operations about photos, addressed by the SHA-256 of their original bytes. */
export const photoOperations = {
  photoState: operation({
    id: 'photoState',
    method: 'HEAD',
    path: '/api/v1/photos/{sha256}',
    access: 'person',
    summary:
      'How far an upload has come. The photo is stored only when Upload-Complete is ?1; until then the offset is less than the length',
    params: Place,
    query: SiteQuery,
    success: [
      {
        status: 200,
        type: 'none',
        what: 'Headers Upload-Offset, Upload-Length and Upload-Complete; of a stored photo also Photo-Width, Photo-Height (upright, px) and Photo-Captured',
      },
    ],
    problems: [404],
  }),
  sendPhoto: operation({
    id: 'sendPhoto',
    method: 'PATCH',
    path: '/api/v1/photos/{sha256}',
    access: 'person',
    summary:
      'Sends the next piece of a photo, for people who may attach photos at the site; the last one is checked against the hash and decoded',
    params: Place,
    query: SiteQuery,
    headers: {
      'Upload-Offset': 'Place of the first byte of this piece in the file',
      'Upload-Length': 'Length of the whole file, bytes',
      'Upload-Name': 'File name as a label, URI-encoded; optional',
    },
    bodyKind: 'bytes',
    bodyBytesMax: PIECE_BYTES_MAX,
    answer: z.strictObject({ offset: z.int(), facts: PhotoFactsShape.optional() }),
    success: [
      { status: 200, type: 'application/json', what: 'Piece taken, or the photo was stored before' },
      { status: 201, type: 'application/json', what: 'Photo complete, checked and stored' },
    ],
    problems: [403, 404, 409, 422, 429, 503],
  }),
  readPhoto: operation({
    id: 'readPhoto',
    method: 'GET',
    path: '/api/v1/photos/{sha256}/{size}',
    access: 'person',
    summary: 'The original byte for byte, or an upright WebP at most 320, 1024 or 2048 pixels wide',
    params: z.strictObject({ sha256: Sha256, size: PhotoSize }),
    query: SiteQuery,
    success: [
      { status: 200, type: 'image/*', what: 'The picture' },
      { status: 304, type: 'none', what: 'The caller has it' },
    ],
    problems: [404],
  }),
};
