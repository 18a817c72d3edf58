import { BlockList, isIP } from 'node:net';
import { errorText, fail, ok, problem, type Result } from '../../lib/base/index.ts';
import type { Operation } from './contract/operation.ts';
import { type Refusal, refuse } from './problems.ts';

const TYPES = { json: 'application/json', bytes: 'application/octet-stream' } as const;

/**
 * Whether a writing request comes from our own pages. Browsers say where a request comes from in Origin and
 * Sec-Fetch-Site, and pages cannot forge either; a request with neither is refused too.
 */
export function originRefusal(request: Request, origin: string): Refusal | undefined {
  if (request.method === 'GET' || request.method === 'HEAD') return undefined;
  const site = request.headers.get('sec-fetch-site');
  const from = request.headers.get('origin');
  const siteFits = site === null || site === 'same-origin';
  const fits = from === null ? site === 'same-origin' : siteFits && isOwn(from, request, origin);
  if (fits) return undefined;
  return refuse(
    403,
    problem(
      'cross-origin',
      'Origin',
      from ?? site ?? '',
      'Changes are taken from our own pages only',
      'Open Rimbook itself and do it there; a program sends its Origin header.',
    ),
  );
}

/** Addresses of the own machine and of local networks (RFC 1918, 3927, 4193, 4291). */
const PRIVATE = new BlockList();
PRIVATE.addSubnet('127.0.0.0', 8, 'ipv4');
PRIVATE.addSubnet('10.0.0.0', 8, 'ipv4');
PRIVATE.addSubnet('172.16.0.0', 12, 'ipv4');
PRIVATE.addSubnet('192.168.0.0', 16, 'ipv4');
PRIVATE.addSubnet('169.254.0.0', 16, 'ipv4');
PRIVATE.addAddress('::1', 'ipv6');
PRIVATE.addSubnet('fc00::', 7, 'ipv6');
PRIVATE.addSubnet('fe80::', 10, 'ipv6');

/**
 * The configured origin, or this machine or an address in the local network if the request went to that very
 * address and port. Any other name is foreign even if the request went there: names can be pointed at this server.
 */
function isOwn(from: string, request: Request, origin: string): boolean {
  if (from === origin) return true;
  if (!URL.canParse(from)) return false;
  const { host, hostname } = new URL(from);
  return host === (request.headers.get('host') ?? new URL(request.url).host) && isLocal(hostname);
}

function isLocal(hostname: string): boolean {
  const address = hostname.replace(/^\[|\]$/g, '');
  const family = isIP(address);
  if (family === 0) return hostname === 'localhost';
  return PRIVATE.check(address, family === 6 ? 'ipv6' : 'ipv4');
}

/** The body as bytes, refused when its type is not the described one or as soon as it grows past the limit. */
export async function readBody(
  request: Request,
  operation: Pick<Operation, 'bodyKind' | 'bodyBytesMax'>,
): Promise<Result<Uint8Array, Refusal>> {
  if (operation.bodyKind === 'none') return ok(new Uint8Array());
  const expected = TYPES[operation.bodyKind];
  const type = request.headers.get('content-type')?.split(';')[0]?.trim().toLowerCase() ?? '';
  if (type !== expected) {
    return fail(
      refuse(
        415,
        problem(
          'body-type',
          'Content-Type',
          type,
          `The body must be sent as ${expected}`,
          'Set the Content-Type header.',
        ),
      ),
    );
  }
  const announced = Number(request.headers.get('content-length') ?? 0);
  if (announced > operation.bodyBytesMax) return fail(tooLarge(announced, operation.bodyBytesMax));
  return collect(request, operation.bodyBytesMax);
}

async function collect(request: Request, bytesMax: number): Promise<Result<Uint8Array, Refusal>> {
  const reader = request.body?.getReader();
  if (reader === undefined) return ok(new Uint8Array());
  const pieces: Uint8Array[] = [];
  let length = 0;
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    length += next.value.length;
    if (length > bytesMax) {
      await reader.cancel();
      return fail(tooLarge(length, bytesMax));
    }
    pieces.push(next.value);
  }
  return ok(Buffer.concat(pieces));
}

function tooLarge(bytes: number, bytesMax: number): Refusal {
  return refuse(
    413,
    problem(
      'body-large',
      'body',
      `${bytes} bytes or more`,
      `The body may have at most ${bytesMax} bytes`,
      'Send it in smaller pieces.',
    ),
  );
}

/** Parses a JSON body. */
export function parseJson(bytes: Uint8Array): Result<unknown, Refusal> {
  try {
    return ok(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)));
  } catch (error) {
    const words = errorText(error);
    return fail(
      refuse(
        400,
        problem('body-json', 'body', words, 'The body is not JSON in UTF-8', 'Send the described JSON.'),
      ),
    );
  }
}
