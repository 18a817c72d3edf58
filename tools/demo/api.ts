import { z } from 'zod';

const PIECE_BYTES = 3_000_000;

/** The parts of a problem document that are shown. */
const ProblemShown = z.object({ detail: z.string(), field: z.string(), wayOut: z.string() });

/** A refusal of the server, in its own words. */
export class Refused extends Error {
  readonly status: number;

  constructor(status: number, words: string) {
    super(words);
    this.status = status;
  }
}

/** A person signed in, or nobody yet, speaking to the server as a browser of the site does. */
export class Visitor {
  readonly #address: string;
  #cookie = '';

  constructor(address: string) {
    this.#address = address;
  }

  async signIn(email: string, password: string): Promise<void> {
    const response = await this.#send('POST', '/api/auth/sign-in/email', { json: { email, password } });
    this.#cookie = response.headers
      .getSetCookie()
      .map((cookie) => cookie.split(';')[0])
      .join('; ');
  }

  async get<T>(path: string, shape: z.ZodType<T>): Promise<T> {
    return shape.parse(await (await this.#send('GET', path, {})).json());
  }

  async write<T>(method: 'POST' | 'PUT', path: string, body: object, shape: z.ZodType<T>): Promise<T> {
    return shape.parse(await (await this.#send(method, path, { json: body })).json());
  }

  /** Sends a photo in pieces; one that the server has is left alone. */
  async sendPhoto(site: string, photo: { sha256: string; name: string; content: Uint8Array }): Promise<void> {
    const path = `/api/v1/photos/${photo.sha256}?site=${site}`;
    for (let offset = 0; offset < photo.content.length; offset += PIECE_BYTES) {
      await this.#send('PATCH', path, {
        bytes: photo.content.subarray(offset, offset + PIECE_BYTES),
        headers: {
          'Upload-Offset': String(offset),
          'Upload-Length': String(photo.content.length),
          'Upload-Name': encodeURIComponent(photo.name),
        },
      });
    }
  }

  async #send(
    method: string,
    path: string,
    sent: { json?: object; bytes?: Uint8Array; headers?: Record<string, string> },
  ): Promise<Response> {
    const headers = new Headers({ origin: this.#address, ...sent.headers });
    if (this.#cookie !== '') headers.set('cookie', this.#cookie);
    if (sent.json !== undefined) headers.set('content-type', 'application/json');
    if (sent.bytes !== undefined) headers.set('content-type', 'application/octet-stream');
    const body = sent.bytes === undefined ? JSON.stringify(sent.json) : new Uint8Array(sent.bytes);
    const response = await fetchAgain(`${this.#address}${path}`, {
      method,
      headers,
      ...(body === undefined ? {} : { body }),
    });
    if (response.ok) return response;
    const text = await response.text();
    throw new Refused(
      response.status,
      `${method} ${path} was refused (${response.status}): ${wordsOf(text)}`,
    );
  }
}

/**
 * Asks once more where the connection kept from before was closed meanwhile, as the server does while the story is told
 * for longer than it waits. Sending something twice changes nothing.
 */
async function fetchAgain(address: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(address, init);
  } catch (error) {
    const cause = error instanceof TypeError ? (error.cause as { code?: unknown } | undefined) : undefined;
    if (cause?.code !== 'UND_ERR_SOCKET') throw error;
    return fetch(address, init);
  }
}

function wordsOf(text: string): string {
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch (error) {
    if (error instanceof SyntaxError) return text.slice(0, 300);
    throw error;
  }
  const shown = ProblemShown.safeParse(document);
  return shown.success
    ? `${shown.data.field === '' ? '' : `${shown.data.field}: `}${shown.data.detail}. ${shown.data.wayOut}`
    : text.slice(0, 300);
}
