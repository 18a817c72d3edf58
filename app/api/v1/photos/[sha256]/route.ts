import { fail, ok, problem, type Result } from '../../../../../lib/base/index.ts';
import type { PhotoFacts } from '../../../../../lib/imaging/server/index.ts';
import { kinds } from '../../../../../lib/record/index.ts';
import { rolesFor } from '../../../../../lib/review/index.ts';
import { findPhoto, type PhotoRecord } from '../../../../../lib/store/server/index.ts';
import { operations } from '../../../../_server/contract/index.ts';
import { memberOf } from '../../../../_server/members.ts';
import { receivePiece } from '../../../../_server/photos.ts';
import { notFound, type Refusal, refuse } from '../../../../_server/problems.ts';
import { defineRoute } from '../../../../_server/route.ts';

/** Roles whose entries may attach a photo: nobody else has a use for storing one. */
const ATTACHING = rolesFor(kinds.photoAttached.kind);

export const HEAD = defineRoute(operations.photoState, async ({ context, person, params, query }) => {
  if (memberOf(context, person, query.site) === undefined) return notFound('site', query.site);
  const stored = findPhoto(context.store, query.site, params.sha256);
  const state =
    stored === undefined
      ? await context.uploads.state({ site: query.site, sha256: params.sha256, person: person.id })
      : { offset: stored.bytes, bytes: stored.bytes };
  if (state === undefined) return notFound('sha256', params.sha256);
  return new Response(null, {
    headers: {
      'Upload-Offset': String(state.offset),
      'Upload-Length': String(state.bytes),
      'Upload-Complete': stored === undefined ? '?0' : '?1',
      'Cache-Control': 'no-store',
      ...(stored === undefined ? {} : factHeaders(stored)),
    },
  });
});

/** What a screen needs to know of a stored photo before it has decoded it. */
function factHeaders(stored: PhotoRecord): Record<string, string> {
  const { width, height, capturedAt } = JSON.parse(stored.facts) as PhotoFacts;
  return {
    'Photo-Width': String(width),
    'Photo-Height': String(height),
    ...(capturedAt === undefined ? {} : { 'Photo-Captured': capturedAt }),
  };
}

export const PATCH = defineRoute(
  operations.sendPhoto,
  async ({ context, person, params, query, request, bytes: data }) => {
    const member = memberOf(context, person, query.site);
    if (member === undefined) return notFound('site', query.site);
    if (!ATTACHING.some((role) => member.roles.includes(role))) return roleNeeded(member.roles);
    const headers = uploadHeaders(request.headers);
    if (!headers.ok) return headers.error;
    const taken = await receivePiece(context, {
      site: query.site,
      sha256: params.sha256,
      person: person.id,
      ...headers.value,
      data,
    });
    if (!taken.ok) return taken.error;
    const { offset, record, added } = taken.value;
    return {
      status: added ? 201 : 200,
      answer: record === undefined ? { offset } : { offset, facts: factsOf(record) },
    };
  },
);

function roleNeeded(roles: readonly string[]): Refusal {
  return refuse(
    403,
    problem(
      'photo-role',
      'site',
      roles.join(', '),
      `Sending a photo takes the role ${ATTACHING.join(' or ')} at the site`,
      'Ask the administrator for the role, or a colleague who has it.',
    ),
  );
}

function factsOf(record: PhotoRecord) {
  const { sha256, bytes, name } = record;
  return { sha256, bytes, name, ...(JSON.parse(record.facts) as PhotoFacts) };
}

interface UploadHeaders {
  readonly offset: number;
  readonly bytes: number;
  readonly name: string;
}

function uploadHeaders(headers: Headers): Result<UploadHeaders, Refusal> {
  const wrong = (field: string, message: string) =>
    fail(
      refuse(
        400,
        problem(
          'upload-header',
          field,
          headers.get(field) ?? undefined,
          message,
          'Send the described headers.',
        ),
      ),
    );
  const numbers: number[] = [];
  for (const field of ['Upload-Offset', 'Upload-Length']) {
    const text = headers.get(field) ?? '';
    if (!/^\d{1,12}$/.test(text)) return wrong(field, 'A whole number of bytes is needed');
    numbers.push(Number(text));
  }
  const name = decodedName(headers.get('Upload-Name') ?? '');
  if (name === undefined) return wrong('Upload-Name', 'The name is not URI-encoded');
  return ok({ offset: numbers[0] ?? 0, bytes: numbers[1] ?? 0, name });
}

function decodedName(text: string): string | undefined {
  try {
    return decodeURIComponent(text);
  } catch (error) {
    if (error instanceof URIError) return undefined;
    throw error;
  }
}
