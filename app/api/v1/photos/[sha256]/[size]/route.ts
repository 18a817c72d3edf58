import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import type { DerivativeWidth, PhotoFacts } from '../../../../../../lib/imaging/server/index.ts';
import { PHOTO_ENDINGS, PHOTO_TYPES } from '../../../../../../lib/photo/index.ts';
import { findPhoto, type PhotoRecord } from '../../../../../../lib/store/server/index.ts';
import type { ServerContext } from '../../../../../_server/context.ts';
import { operations } from '../../../../../_server/contract/index.ts';
import { memberOf } from '../../../../../_server/members.ts';
import { derivedPicture, requireOriginal } from '../../../../../_server/photos.ts';
import { notFound } from '../../../../../_server/problems.ts';
import { defineRoute } from '../../../../../_server/route.ts';

export const GET = defineRoute(
  operations.readPhoto,
  async ({ context, person, params: { sha256, size }, query, request }) => {
    if (memberOf(context, person, query.site) === undefined) return notFound('site', query.site);
    const photo = findPhoto(context.store, query.site, sha256);
    if (photo === undefined) return notFound('sha256', sha256);
    const headers = {
      ETag: `"${sha256}-${size}"`,
      'Cache-Control': 'private, max-age=31536000, immutable',
      Vary: 'Cookie',
      'X-Content-Type-Options': 'nosniff',
    };
    if (request.headers.get('if-none-match') === headers.ETag) {
      return new Response(null, { status: 304, headers });
    }
    if (size === 'original') return originalResponse(context, photo, headers);
    const picture = await derivedPicture(context, photo, Number(size) as DerivativeWidth);
    return new Response(new Uint8Array(picture), {
      headers: { ...headers, 'Content-Type': 'image/webp', 'Content-Length': String(picture.length) },
    });
  },
);

async function originalResponse(
  context: ServerContext,
  photo: PhotoRecord,
  headers: Readonly<Record<string, string>>,
): Promise<Response> {
  await requireOriginal(context, photo);
  const { format } = JSON.parse(photo.facts) as PhotoFacts;
  const file = createReadStream(context.blobs.path(photo.sha256));
  return new Response(Readable.toWeb(file) as ReadableStream<Uint8Array>, {
    headers: {
      ...headers,
      'Content-Type': PHOTO_TYPES[format],
      'Content-Length': String(photo.bytes),
      // Named by its hash: the sender's label stays out of headers and off other people's disks.
      'Content-Disposition': `attachment; filename="${photo.sha256.slice(0, 16)}.${PHOTO_ENDINGS[format]}"`,
    },
  });
}
