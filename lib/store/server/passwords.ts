import { ok, type Problem, problem, type Result } from '../../base/index.ts';

export const PASSWORD_CHARS_MIN = 12;
export const PASSWORD_CHARS_MAX = 128;

/** Very common choices of twelve characters or more, lower case, without spaces. */
const COMMON: ReadonlySet<string> = new Set([
  'password1234',
  'password12345',
  'password123456',
  'passwordpassword',
  'password1password',
  'p@ssword1234',
  '123456789012',
  '1234567890123',
  '12345678901234',
  '123123123123',
  '123456123456',
  '098765432109',
  'qwertyuiop12',
  'qwertyuiop123',
  'qwertyuiopasdf',
  'qwerty123456',
  'qwertyqwerty',
  '1q2w3e4r5t6y',
  'asdfghjkl123',
  'abcdefghijkl',
  'abcdefghijklm',
  'abc123abc123',
  'abcd12345678',
  'aaaabbbbcccc',
  'letmeinletmein',
  'letmein12345',
  'iloveyou1234',
  'iloveyou12345',
  'iloveyouiloveyou',
  'welcome12345',
  'welcome123456',
  'welcomewelcome',
  'administrator',
  'administrator1',
  'adminadminadmin',
  'changeme1234',
  'changemechangeme',
  'trustno1trustno1',
  'monkeymonkey',
  'dragondragon',
  'sunshine1234',
  'football1234',
  'superman1234',
  'michael12345',
  'princess1234',
  'correcthorsebatterystaple',
  'thisismypassword',
  'mypassword123',
  'secretsecret',
  'inspection123',
  'inspector1234',
]);

/** Whether a password may be chosen by the person with this e-mail address; the problem names the broken rule. */
export function checkPassword(password: string, email: string): Result<void, Problem> {
  const wrong = (code: string, message: string) =>
    ({
      ok: false,
      // The password itself is never repeated.
      error: problem(
        code,
        'password',
        `${password.length} characters`,
        message,
        'Choose four or more words that do not belong together, or let a password manager make one.',
      ),
    }) as const;
  if (password.length < PASSWORD_CHARS_MIN) {
    return wrong('password-short', `A password has at least ${PASSWORD_CHARS_MIN} characters`);
  }
  if (password.length > PASSWORD_CHARS_MAX) {
    return wrong('password-long', `A password has at most ${PASSWORD_CHARS_MAX} characters`);
  }
  const plain = password.toLowerCase().replace(/\s/g, '');
  const address = email.toLowerCase();
  if (plain === address || plain === address.split('@')[0]) {
    return wrong('password-email', 'A password may not be the e-mail address');
  }
  if (COMMON.has(plain) || new Set(plain).size <= 2) {
    return wrong('password-common', 'This password is among the first ones that are tried');
  }
  return ok(undefined);
}
