import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';

/** scrypt (RFC 7914) with 32 MB of memory, about 60 ms: slow enough against guessing, off the event loop. */
const COST: ScryptOptions = { N: 16_384, r: 16, p: 1, maxmem: 128 * 16_384 * 16 * 2 };
const KEY_BYTES = 64;
const SALT_BYTES = 16;

/** Salted hash of a password, `salt:key` in hexadecimal digits; equal Unicode spellings hash alike (NFKC). */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(SALT_BYTES).toString('hex');
  return `${salt}:${(await keyOf(password, salt)).toString('hex')}`;
}

/** Whether a password has this hash; a hash of another form fits none. */
export async function verifyPassword(given: { hash: string; password: string }): Promise<boolean> {
  const [salt = '', key = ''] = given.hash.split(':');
  const kept = Buffer.from(key, 'hex');
  const found = await keyOf(given.password, salt);
  return kept.length === found.length && timingSafeEqual(kept, found);
}

function keyOf(password: string, salt: string): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(password.normalize('NFKC'), salt, KEY_BYTES, COST, (error, key) =>
      error === null ? resolve(key) : reject(error),
    );
  });
}
