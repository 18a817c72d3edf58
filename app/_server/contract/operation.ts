import { z } from 'zod';

/** Who may call an operation; finer rules (member of the site, lead) are the handler's, and named in `summary`. */
export type Access = 'anyone' | 'person' | 'administrator';

export type Method = 'GET' | 'HEAD' | 'POST' | 'PUT' | 'PATCH';

type Shape = z.ZodType<Record<string, unknown>>;

/** One operation of the HTTP interface: what the description is made of and what requests are checked against. */
export interface Operation<
  Params extends Shape = Shape,
  Query extends Shape = Shape,
  Body extends z.ZodType = z.ZodType,
  Answer extends z.ZodType = z.ZodType,
> {
  readonly id: string;
  readonly method: Method;
  /** With `{name}` for parameters. */
  readonly path: string;
  readonly access: Access;
  readonly summary: string;
  readonly params: Params;
  readonly query: Query;
  /** Request headers the operation reads, name to meaning. */
  readonly headers?: Readonly<Record<string, string>>;
  readonly body: Body;
  /** How the body is sent; `json` bodies are parsed and checked, `bytes` are handed over as they are. */
  readonly bodyKind: 'none' | 'json' | 'bytes';
  readonly bodyBytesMax: number;
  readonly answer: Answer;
  /** Status of success and what the reply is. */
  readonly success: ReadonlyArray<{ readonly status: number; readonly type: string; readonly what: string }>;
  /** Statuses of problem documents this operation gives besides the general ones. */
  readonly problems: readonly number[];
}

const Nothing = z.strictObject({});
const JSON_BYTES_MAX = 64_000;

interface Given<P extends Shape, Q extends Shape, B extends z.ZodType, A extends z.ZodType> {
  readonly id: string;
  readonly method: Method;
  readonly path: string;
  readonly access: Access;
  readonly summary: string;
  readonly params?: P;
  readonly query?: Q;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: B;
  readonly bodyKind?: 'none' | 'json' | 'bytes';
  readonly bodyBytesMax?: number;
  readonly answer?: A;
  readonly success?: Operation['success'];
  readonly problems?: readonly number[];
}

/** Fills in the usual parts of an operation: no parameters, JSON in and out, status 200. */
export function operation<
  P extends Shape = typeof Nothing,
  Q extends Shape = typeof Nothing,
  B extends z.ZodType = z.ZodUndefined,
  A extends z.ZodType = z.ZodUndefined,
>(given: Given<P, Q, B, A>): Operation<P, Q, B, A> {
  return {
    id: given.id,
    method: given.method,
    path: given.path,
    access: given.access,
    summary: given.summary,
    // The defaults of the type parameters are exactly these schemas.
    params: given.params ?? (Nothing as unknown as P),
    query: given.query ?? (Nothing as unknown as Q),
    ...(given.headers === undefined ? {} : { headers: given.headers }),
    body: given.body ?? (z.undefined() as unknown as B),
    bodyKind: given.bodyKind ?? (given.body === undefined ? 'none' : 'json'),
    bodyBytesMax: given.bodyBytesMax ?? JSON_BYTES_MAX,
    answer: given.answer ?? (z.undefined() as unknown as A),
    success: given.success ?? [{ status: 200, type: 'application/json', what: 'Done' }],
    problems: given.problems ?? [],
  };
}
