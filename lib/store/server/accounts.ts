import { createHash } from 'node:crypto';
import { isIP } from 'node:net';
import { betterAuth } from 'better-auth';
import { getMigrations } from 'better-auth/db/migration';
import { admin } from 'better-auth/plugins/admin';
import type { Store } from './database.ts';
import { hashPassword, verifyPassword } from './hashing.ts';
import { PASSWORD_CHARS_MAX, PASSWORD_CHARS_MIN } from './passwords.ts';
import { ADMINISTRATOR } from './people.ts';
import { type Settings, sessionSecret } from './settings.ts';

/** The person a request comes from. */
export interface SignedIn {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly administrator: boolean;
}

export interface Accounts {
  /** Serves one of `ACCOUNT_PATHS`; the caller has checked origin and size and limits how often. */
  handle(request: Request, address: string): Promise<Response>;
  /** Who the session cookie belongs to, or undefined. */
  person(headers: Headers): Promise<SignedIn | undefined>;
  /** Slow salted hash for `NewPerson.passwordHash`; see `hashPassword`. */
  hash(password: string): Promise<string>;
}

/** The only paths of the accounts library that are served; everything else about accounts is ours. */
export const ACCOUNT_PATHS: Readonly<Record<string, 'GET' | 'POST'>> = {
  '/sign-in/email': 'POST',
  '/sign-out': 'POST',
  '/get-session': 'GET',
  '/change-password': 'POST',
};

const ADDRESS_HEADER = 'x-rimbook-address';

/**
 * Key of the sign-in limit, in the shape of an address. Behind the operator's own proxy it is the address that
 * proxy saw (the last of X-Forwarded-For). Otherwise nothing a client sends is believed: the key is then the
 * account itself, so that guessing at one account is slowed down whoever does it.
 */
export function rateLimitAddress(headers: Headers, trustProxy: boolean, account: string): string {
  const seen = trustProxy ? headers.get('x-forwarded-for')?.split(',').at(-1)?.trim() : undefined;
  if (seen !== undefined && isIP(seen) !== 0) return seen;
  const digits = createHash('sha256').update(account.trim().toLowerCase()).digest('hex');
  return `fd${digits.slice(0, 2)}:${(digits.slice(2, 30).match(/.{4}/g) ?? []).join(':')}`;
}

/** Opens accounts on the same database; its tables are made or brought up to date. */
export async function openAccounts(store: Store, settings: Settings): Promise<Accounts> {
  const auth = authOver(store, settings);
  await (await getMigrations(auth.options)).runMigrations();
  return {
    handle: async (request, address) => {
      const headers = new Headers(request.headers);
      headers.set(ADDRESS_HEADER, address);
      headers.set('origin', settings.origin);
      const response = await auth.handler(new Request(request, { headers }));
      if (response.status >= 500) {
        store.probe();
        throw new Error(`The accounts library answered ${response.status}: ${await response.text()}`);
      }
      return response;
    },
    person: async (headers) => {
      const found = await auth.api.getSession({ headers }).catch((error: unknown) => {
        // The library hides its cause; trouble of the store must come out under its own name.
        store.probe();
        throw error;
      });
      if (found === null || found.user.banned === true) return undefined;
      const { id, name, email, role } = found.user;
      return { id, name, email, administrator: role === ADMINISTRATOR };
    },
    hash: hashPassword,
  };
}

function authOver(store: Store, settings: Settings) {
  return betterAuth({
    appName: 'Rimbook',
    baseURL: settings.origin,
    basePath: '/api/auth',
    secret: sessionSecret(settings),
    // Single statements only: a transaction that waits would let other requests' statements into it.
    database: { db: store.build, type: 'sqlite', transaction: false },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: PASSWORD_CHARS_MIN,
      maxPasswordLength: PASSWORD_CHARS_MAX,
      password: { hash: hashPassword, verify: verifyPassword },
    },
    plugins: [
      admin({
        adminRoles: [ADMINISTRATOR],
        bannedUserMessage: 'This account is closed. Ask the administrator to open it again.',
      }),
    ],
    session: { expiresIn: 60 * 60 * 24 * 30, updateAge: 60 * 60 * 24, cookieCache: { enabled: false } },
    // Limited by the caller, before anything slow begins.
    rateLimit: { enabled: false },
    databaseHooks: {
      session: {
        create: {
          // Without a trusted proxy the "address" is a key made of the account: not worth keeping.
          before: async (session) => ({
            data: { ...session, ipAddress: settings.trustProxy ? session.ipAddress : '' },
          }),
        },
      },
    },
    trustedOrigins: [settings.origin],
    telemetry: { enabled: false },
    logger: { level: 'error' },
    advanced: {
      cookiePrefix: 'rimbook',
      useSecureCookies: settings.origin.startsWith('https:'),
      defaultCookieAttributes: { httpOnly: true, sameSite: 'lax', path: '/' },
      ipAddress: { ipAddressHeaders: [ADDRESS_HEADER], ipv6Subnet: 128 },
    },
  });
}
