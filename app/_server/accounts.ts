import { problem } from '../../lib/base/index.ts';
import { ACCOUNT_PATHS, checkPassword, rateLimitAddress } from '../../lib/store/server/index.ts';
import type { ServerContext } from './context.ts';
import { notFound, problemResponse, type Refusal, refuse } from './problems.ts';

/** A request for the accounts library, its body parsed. */
export interface AccountCall {
  readonly context: ServerContext;
  readonly request: Request;
  readonly path: string;
  readonly body: Readonly<Record<string, unknown>> | undefined;
}

/** Serves the few paths of the accounts library that are open; its refusals become problem documents. */
export async function serveAccounts(call: AccountCall): Promise<Response | Refusal> {
  const { context, request, path, body } = call;
  if (ACCOUNT_PATHS[path] !== request.method) return notFound('path', path);
  if (path === '/change-password') {
    const wrong = await newPasswordRefusal(call);
    if (wrong !== undefined) return wrong;
  }
  const account =
    typeof body?.email === 'string'
      ? `email ${body.email.trim()}`
      : `cookie ${request.headers.get('cookie')}`;
  const address = rateLimitAddress(request.headers, context.settings.trustProxy, account);
  const passed = new Request(`${context.settings.origin}/api/auth${path}`, {
    method: request.method,
    headers: passedHeaders(request),
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const response = await context.accounts.handle(passed, address);
  return response.status < 400 ? withoutToken(response) : refusedByAccounts(response, path);
}

/** The library repeats the session's key in its replies; it belongs into the cookie alone, where no script reads it. */
async function withoutToken(response: Response): Promise<Response> {
  const hidden = JSON.stringify(JSON.parse(await response.text()), (name, value: unknown) =>
    name === 'token' ? undefined : value,
  );
  const headers = new Headers(response.headers);
  headers.delete('content-length');
  headers.set('cache-control', 'no-store');
  return new Response(hidden, { status: response.status, headers });
}

function passedHeaders(request: Request): Headers {
  const headers = new Headers({ 'content-type': 'application/json' });
  for (const name of ['cookie', 'user-agent']) {
    const value = request.headers.get(name);
    if (value !== null) headers.set(name, value);
  }
  return headers;
}

async function newPasswordRefusal({ context, request, body }: AccountCall): Promise<Refusal | undefined> {
  const person = await context.accounts.person(request.headers);
  if (person === undefined) return undefined;
  const allowed = checkPassword(String(body?.newPassword ?? ''), person.email);
  return allowed.ok ? undefined : refuse(422, { ...allowed.error, field: 'newPassword' });
}

async function refusedByAccounts(response: Response, path: string): Promise<Response> {
  const words = /"message":"([^"]*)"/.exec(await response.text())?.[1] ?? '';
  const status = Math.min(response.status, 500);
  if (status === 429) {
    const seconds = response.headers.get('x-retry-after') ?? '60';
    return problemResponse(
      refuse(
        429,
        problem('sign-in-often', '', '', 'Too many attempts', `Wait ${seconds} seconds and try again.`),
        { headers: { 'Retry-After': seconds } },
      ),
    );
  }
  const [code, message, wayOut] =
    path === '/sign-in/email' && status === 401
      ? [
          'sign-in-refused',
          'The e-mail address or the password is wrong',
          'Try again, or ask the administrator for a new password.',
        ]
      : ['account-refused', words || 'This was refused', 'Compare what you entered and try again.'];
  return problemResponse(refuse(status, problem(code ?? '', '', '', message ?? '', wayOut ?? '')));
}
