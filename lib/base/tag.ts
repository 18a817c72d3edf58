import { fail, ok, type Problem, problem, type Result } from './result.ts';

/**
 * Wheel tags: five characters and a check character, written `K7P-3Q` + check, e.g. `K7P-3QX`.
 * Alphabet: Crockford's base 32 (no I, L, O, U). Check character: the alphabet position of the
 * weighted sum, weights 1…5 times an odd multiplier, modulo 31 (prime), so that every single wrong
 * character and every swap of neighbours is caught (argument: Hamming distance 2 codes over a prime field).
 */
export const TAG_ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const BODY_CHARS = 5;
const MODULUS = 31;
/** The body uses the first 31 symbols only, so that values stay below the prime. */
const BODY_ALPHABET = TAG_ALPHABET.slice(0, MODULUS);

function checkCharacter(body: string): string {
  let sum = 0;
  for (let i = 0; i < body.length; i += 1) {
    sum += BODY_ALPHABET.indexOf(body.charAt(i)) * (i + 2);
  }
  return BODY_ALPHABET.charAt(sum % MODULUS);
}

/** Tag for a whole number 0 … 31^5 − 1 (28 629 150), with its check character: `XXX-XXX`. */
export function formatTag(serial: number): string {
  if (!Number.isInteger(serial) || serial < 0 || serial >= MODULUS ** BODY_CHARS) {
    throw new Error(
      `Broken invariant: tag serial ${serial} is not a whole number below ${MODULUS ** BODY_CHARS}`,
    );
  }
  let body = '';
  let rest = serial;
  for (let i = 0; i < BODY_CHARS; i += 1) {
    body = BODY_ALPHABET.charAt(rest % MODULUS) + body;
    rest = Math.floor(rest / MODULUS);
  }
  const whole = body + checkCharacter(body);
  return `${whole.slice(0, 3)}-${whole.slice(3)}`;
}

/**
 * Reads a tag as typed: any case, spaces and dashes ignored, the look-alikes I, L → 1 and O → 0.
 * Fails with a problem on field `tag` when it has another length, a strange character or a wrong check character.
 */
export function parseTag(typed: string): Result<string, Problem> {
  const plain = typed.toUpperCase().replace(/[\s-]/g, '').replace(/[IL]/g, '1').replace(/O/g, '0');
  const wayOut = 'Read the tag again: six characters such as 4K7-P3Q.';
  if (plain.length !== BODY_CHARS + 1) {
    return fail(problem('tag-length', 'tag', typed, 'A wheel tag has six characters', wayOut));
  }
  for (const character of plain) {
    if (!BODY_ALPHABET.includes(character)) {
      return fail(
        problem('tag-character', 'tag', typed, `A wheel tag never contains "${character}"`, wayOut),
      );
    }
  }
  if (checkCharacter(plain.slice(0, BODY_CHARS)) !== plain.charAt(BODY_CHARS)) {
    return fail(
      problem(
        'tag-check',
        'tag',
        typed,
        'The check character does not fit: one character is misread or two are swapped',
        wayOut,
      ),
    );
  }
  return ok(`${plain.slice(0, 3)}-${plain.slice(3)}`);
}
