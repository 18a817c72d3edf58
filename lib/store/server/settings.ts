import { randomBytes } from 'node:crypto';
import {
  closeSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { z } from 'zod';
import { fail, ok, type Result, shown } from '../../base/index.ts';
import { guarded } from './trouble.ts';

const SECRET_CHARS_MIN = 32;
const SECRET_FILE = 'secret';

/** What the server is told from outside; every part has a default. */
export interface Settings {
  /** Absolute path of the one folder that holds everything. */
  readonly dataFolder: string;
  /** Scheme, host and port under which browsers reach the server, without a slash at the end. */
  readonly origin: string;
  /** Key for signing sessions; undefined means: kept in the data folder, see `sessionSecret`. */
  readonly secret: string | undefined;
  /** Whether X-Forwarded-For is written by a proxy of the same operator. */
  readonly trustProxy: boolean;
}

const Environment = z.object({
  RIMBOOK_DATA: z
    .string()
    .min(1, 'RIMBOOK_DATA must name a folder, for example ./data')
    .refine((path) => !path.includes('\0'), 'RIMBOOK_DATA must be a path without a NUL character')
    .default('./data'),
  RIMBOOK_ORIGIN: z
    .string()
    .refine(isOrigin, 'RIMBOOK_ORIGIN must be a web address without a path, for example https://rims.example')
    .default('http://localhost:3000'),
  RIMBOOK_SECRET: z
    .string()
    .min(SECRET_CHARS_MIN, `RIMBOOK_SECRET must have at least ${SECRET_CHARS_MIN} characters, or be left out`)
    .optional(),
  RIMBOOK_TRUST_PROXY: z.enum(['0', '1'], { error: 'RIMBOOK_TRUST_PROXY must be 0 or 1' }).default('0'),
});

function isOrigin(text: string): boolean {
  const address = URL.canParse(text) ? new URL(text) : undefined;
  if (address === undefined || !['http:', 'https:'].includes(address.protocol)) return false;
  return address.origin === text.replace(/\/$/, '');
}

/**
 * Reads the settings from the environment. Fails with one sentence per wrong setting, all at once;
 * a secret is never repeated in a sentence.
 */
export function readSettings(
  environment: Readonly<Record<string, string | undefined>>,
): Result<Settings, string[]> {
  const parsed = Environment.safeParse(environment);
  if (!parsed.success) {
    return fail(
      parsed.error.issues.map((issue) => {
        const name = String(issue.path[0]);
        const received = name === 'RIMBOOK_SECRET' ? '' : ` (received ${shown(environment[name])})`;
        return `${issue.message}${received}.`;
      }),
    );
  }
  return ok({
    dataFolder: resolve(parsed.data.RIMBOOK_DATA),
    origin: parsed.data.RIMBOOK_ORIGIN.replace(/\/$/, ''),
    secret: parsed.data.RIMBOOK_SECRET,
    trustProxy: parsed.data.RIMBOOK_TRUST_PROXY === '1',
  });
}

/**
 * The key for signing sessions: the one set, or one made once and kept in the data folder, readable by its
 * owner only. Two servers starting together end with the same key: the file appears whole or not at all.
 */
export function sessionSecret(settings: Settings): string {
  if (settings.secret !== undefined) return settings.secret;
  return guarded(() => {
    mkdirSync(settings.dataFolder, { recursive: true, mode: 0o700 });
    const path = join(settings.dataFolder, SECRET_FILE);
    const kept = readIfThere(path);
    if (kept !== undefined) return kept;
    const temporary = `${path}.${randomBytes(6).toString('hex')}`;
    const file = openSync(temporary, 'wx', 0o600);
    try {
      writeSync(file, randomBytes(48).toString('base64url'));
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    try {
      linkSync(temporary, path);
    } catch (error) {
      if (!isCode(error, 'EEXIST')) throw error;
    } finally {
      rmSync(temporary);
    }
    return readFileSync(path, 'utf8');
  });
}

function readIfThere(path: string): string | undefined {
  try {
    const text = readFileSync(path, 'utf8');
    return text.length >= SECRET_CHARS_MIN ? text : undefined;
  } catch (error) {
    if (isCode(error, 'ENOENT')) return undefined;
    throw error;
  }
}

function isCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
