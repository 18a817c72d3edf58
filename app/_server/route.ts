import type { z } from 'zod';
import { assert, fail, ok, problem, type Result } from '../../lib/base/index.ts';
import type { SignedIn } from '../../lib/store/server/index.ts';
import { type ServerContext, serverContext } from './context.ts';
import type { Operation } from './contract/operation.ts';
import { fieldProblem } from './fields.ts';
import { exceptionResponse, notFound, problemResponse, type Refusal, refuse } from './problems.ts';
import { originRefusal, parseJson, readBody } from './request.ts';

type Shape = z.ZodType<Record<string, unknown>>;

/** A checked request. */
export interface Call<P, Q, B> {
  readonly context: ServerContext;
  readonly request: Request;
  readonly params: P;
  readonly query: Q;
  readonly body: B;
  /** The body as received, for operations that take bytes. */
  readonly bytes: Uint8Array;
}

/** A reply that is checked against the contract before it leaves. */
export interface Reply<A> {
  readonly status?: number;
  readonly answer: A;
  readonly headers?: Readonly<Record<string, string>>;
}

type Outcome<A> = Reply<A> | Refusal | Response;
type Person = { readonly person: SignedIn };

/** What the framework passes besides the request. */
export interface RouteParams {
  readonly params: Promise<Record<string, string | string[]>>;
}
export type RouteHandler = (request: Request, route: RouteParams) => Promise<Response>;

/** A route for signed-in people (or administrators, as the operation says). */
export function defineRoute<P extends Shape, Q extends Shape, B extends z.ZodType, A extends z.ZodType>(
  operation: Operation<P, Q, B, A>,
  handle: (
    call: Call<z.output<P>, z.output<Q>, z.output<B>> & Person,
  ) => Promise<Outcome<z.input<A>>> | Outcome<z.input<A>>,
): RouteHandler {
  assert(operation.access !== 'anyone', `${operation.id} is for signed-in people`);
  return (request, route) =>
    serve(operation, request, async (context) => {
      const person = await context.accounts.person(request.headers);
      if (person === undefined) return notSignedIn();
      if (operation.access === 'administrator' && !person.administrator) return administratorsOnly();
      const call = await check(operation, context, request, route);
      return call.ok ? handle({ ...call.value, person }) : call.error;
    });
}

/** A route that anyone may call. */
export function defineOpenRoute<P extends Shape, Q extends Shape, B extends z.ZodType, A extends z.ZodType>(
  operation: Operation<P, Q, B, A>,
  handle: (
    call: Call<z.output<P>, z.output<Q>, z.output<B>>,
  ) => Promise<Outcome<z.input<A>>> | Outcome<z.input<A>>,
): RouteHandler {
  assert(operation.access === 'anyone', `${operation.id} is for anyone`);
  return (request, route) =>
    serve(operation, request, async (context) => {
      const call = await check(operation, context, request, route);
      return call.ok ? handle(call.value) : call.error;
    });
}

async function serve<A extends z.ZodType>(
  operation: Operation<Shape, Shape, z.ZodType, A>,
  request: Request,
  work: (context: ServerContext) => Promise<Outcome<z.input<A>>>,
): Promise<Response> {
  try {
    const context = await serverContext();
    const foreign = originRefusal(request, context.settings.origin);
    const outcome = foreign ?? (await work(context));
    if (outcome instanceof Response) return outcome;
    if ('refused' in outcome) return problemResponse(outcome);
    return jsonResponse(operation, outcome);
  } catch (error) {
    // A page that is left may cut its last word off: nobody is there for an answer, and nothing is wrong here.
    if (isCutOff(error)) return new Response(null, { status: 400 });
    return exceptionResponse(error, `${operation.method} ${operation.path}`);
  }
}

function isCutOff(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ECONNRESET';
}

function jsonResponse<A extends z.ZodType>(
  operation: Operation<Shape, Shape, z.ZodType, A>,
  reply: Reply<z.input<A>>,
): Response {
  // A reply that does not fit its own description is a bug of ours and must not leave half-right.
  const body = operation.answer.parse(reply.answer);
  return new Response(JSON.stringify(body), {
    status: reply.status ?? operation.success[0]?.status ?? 200,
    headers: {
      'Content-Type': 'application/json',
      'Cache-Control': 'no-store',
      'X-Content-Type-Options': 'nosniff',
      ...reply.headers,
    },
  });
}

async function check<P extends Shape, Q extends Shape, B extends z.ZodType>(
  operation: Operation<P, Q, B>,
  context: ServerContext,
  request: Request,
  route: RouteParams,
): Promise<Result<Call<z.output<P>, z.output<Q>, z.output<B>>, Refusal>> {
  const given = (await route.params) ?? {};
  const params = operation.params.safeParse(given);
  if (!params.success) return fail(notFound('path', new URL(request.url).pathname));
  const asked = Object.fromEntries(new URL(request.url).searchParams);
  const query = operation.query.safeParse(asked);
  if (!query.success) return fail(refuse(400, fieldProblem(query.error, asked, 'query')));
  const bytes = await readBody(request, operation);
  if (!bytes.ok) return bytes;
  const json = operation.bodyKind === 'json' ? parseJson(bytes.value) : ok(undefined);
  if (!json.ok) return json;
  const body = operation.body.safeParse(json.value);
  if (!body.success) return fail(refuse(400, fieldProblem(body.error, json.value, 'body')));
  return ok({
    context,
    request,
    params: params.data,
    query: query.data,
    body: body.data,
    bytes: bytes.value,
  });
}

function notSignedIn(): Refusal {
  return refuse(
    401,
    problem(
      'not-signed-in',
      '',
      '',
      'Nobody is signed in',
      'Sign in; what you entered stays on your device.',
    ),
  );
}

function administratorsOnly(): Refusal {
  return refuse(
    403,
    problem('administrators-only', '', '', 'This is for administrators', 'Ask your administrator to do it.'),
  );
}
