import { problem } from '../../lib/base/index.ts';
import {
  ACCOUNT_PATHS,
  checkPassword,
  isAccountEmail,
  rateLimitAddress,
  type SignedIn,
} from '../../lib/store/server/index.ts';
import {
  ATTEMPTS_PER_MINUTE_MAX,
  hashingBusy,
  passwordTries,
  tooOften,
  UNKNOWN_PER_MINUTE_MAX,
} from './attempts.ts';
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
  if (ACCOUNT_PATHS[call.path] !== call.request.method) return notFound('path', call.path);
  if (call.path === '/sign-in/email') return signIn(call);
  if (call.path === '/change-password') return changePassword(call);
  return passOn(call, '', call.body === undefined ? undefined : {});
}

async function signIn(call: AccountCall): Promise<Response | Refusal> {
  const { context, request } = call;
  const { email, password } = call.body ?? {};
  if (typeof email !== 'string') return textNeeded('email');
  if (typeof password !== 'string') return textNeeded('password');
  const address = rateLimitAddress(request.headers, context.settings.trustProxy, `email ${email.trim()}`);
  if (context.hashing.full) return hashingBusy();
  const wait =
    take(context, `sign-in ${address}`, ATTEMPTS_PER_MINUTE_MAX) ||
    (isAccountEmail(context.store, email) ? 0 : take(context, 'unknown', UNKNOWN_PER_MINUTE_MAX));
  if (wait > 0) return tooOften(wait);
  const response = await context.hashing.run(() => passOn(call, address, { email, password }));
  // Only failed tries count against an account. An address may be shared: there a success forgives nothing.
  if (response.ok && !context.settings.trustProxy) context.attempts.forget(`sign-in ${address}`);
  return response;
}

async function changePassword(call: AccountCall): Promise<Response | Refusal> {
  const { context, request } = call;
  const { currentPassword, newPassword } = call.body ?? {};
  if (typeof currentPassword !== 'string') return textNeeded('currentPassword');
  if (typeof newPassword !== 'string') return textNeeded('newPassword');
  const body = { currentPassword, newPassword, revokeOtherSessions: true };
  const person = await context.accounts.person(request.headers);
  if (person === undefined) return passOn(call, '', body);
  const wrong = newPasswordRefusal(newPassword, person);
  if (wrong !== undefined) return wrong;
  if (context.hashing.full) return hashingBusy();
  const wait = take(context, passwordTries(person.id), ATTEMPTS_PER_MINUTE_MAX);
  if (wait > 0) return tooOften(wait);
  const address = rateLimitAddress(request.headers, context.settings.trustProxy, `person ${person.id}`);
  return context.hashing.run(() => passOn(call, address, body));
}

function take(context: ServerContext, key: string, triesMax: number): number {
  return context.attempts.take(key, triesMax, Date.parse(context.now()));
}

function textNeeded(field: string): Refusal {
  return refuse(
    400,
    problem('body', field, 'not shown', 'Text is needed here', 'Send the described members.'),
  );
}

/** Asks the library; only the members given here reach it. */
async function passOn(
  { context, request, path }: AccountCall,
  address: string,
  body: Readonly<Record<string, string | boolean>> | undefined,
): Promise<Response> {
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

function newPasswordRefusal(newPassword: string, person: SignedIn): Refusal | undefined {
  const allowed = checkPassword(newPassword, person.email);
  return allowed.ok ? undefined : refuse(422, { ...allowed.error, field: 'newPassword' });
}

async function refusedByAccounts(response: Response, path: string): Promise<Response> {
  const words = /"message":"([^"]*)"/.exec(await response.text())?.[1] ?? '';
  const status = Math.min(response.status, 500);
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
