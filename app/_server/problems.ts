import { randomUUID } from 'node:crypto';
import { type Problem, problem } from '../../lib/base/index.ts';
import { troubleOf } from '../../lib/store/server/index.ts';

/** A refusal with its HTTP status. */
export interface Refusal {
  readonly refused: number;
  readonly problem: Problem;
  /** Members added to the problem document. */
  readonly extra?: Readonly<Record<string, string | number>>;
  readonly headers?: Readonly<Record<string, string>>;
}

/** A refusal of `status` with a problem; for handlers to return. */
export function refuse(status: number, why: Problem, more: Pick<Refusal, 'extra' | 'headers'> = {}): Refusal {
  return { refused: status, problem: why, ...more };
}

/** What is not there, or not for the caller: both read the same. */
export function notFound(field: string, value: string): Refusal {
  return refuse(
    404,
    problem(
      'not-found',
      field,
      value,
      'There is nothing here for you',
      'Check the address and the site you work at.',
    ),
  );
}

const TITLES: Readonly<Record<number, string>> = {
  400: 'Request not understood',
  401: 'Not signed in',
  403: 'Not allowed',
  404: 'Not found',
  405: 'Not offered here',
  409: 'Conflict',
  413: 'Too large',
  415: 'Wrong type of body',
  422: 'Refused',
  429: 'Too many',
  500: 'The server cannot serve',
  503: 'Not now',
};

/** The problem document (RFC 9457) of a refusal. */
export function problemResponse(refusal: Refusal): Response {
  const { refused: status, problem: why, extra = {}, headers = {} } = refusal;
  const document = {
    type: `urn:rimbook:problem:${why.code}`,
    title: TITLES[status] ?? 'Problem',
    status,
    detail: why.message,
    code: why.code,
    field: why.field,
    value: why.value,
    wayOut: why.wayOut,
    ...extra,
  };
  return new Response(JSON.stringify(document), {
    status,
    headers: {
      'Content-Type': 'application/problem+json',
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
      ...headers,
    },
  });
}

/**
 * The reply to an exception: trouble of the store in its own sentence, anything else as an unexpected error with
 * a reference under which the whole is in the server's log.
 */
export function exceptionResponse(error: unknown, where: string): Response {
  const reference = randomUUID();
  console.error(`[${reference}] ${where}`, error);
  const trouble = troubleOf(error);
  const why =
    trouble === undefined
      ? problem(
          'unexpected',
          '',
          '',
          'Something went wrong in the server',
          `Try again; if it happens again, give the operator the reference ${reference}.`,
        )
      : problem(
          trouble.code,
          '',
          '',
          trouble.message,
          'The operator of the server has to act; what you entered stays on your device.',
        );
  return problemResponse({ refused: 500, problem: why, extra: { reference } });
}
