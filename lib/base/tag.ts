import { fail, ok, type Problem, problem, type Result } from './result.ts';

/**
 * Wheel tags: five characters and a check character, written in two groups of three.
 * Alphabet: Crockford's base 32 (no I, L, O, U) without its last symbol, 31 in all. Check character: the sum of
 * symbol values with weights 2 … 6 modulo 31. As 31 is prime, every single wrong character and every swap of
 * two neighbours is caught.
 */
export const TAG_ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const BODY_CHARS = 5;
const MODULUS = TAG_ALPHABET.length;

function checkCharacter(body: string): string {
  let sum = 0;
  for (let i = 0; i < body.length; i += 1) {
    sum += TAG_ALPHABET.indexOf(body.charAt(i)) * (i + 2);
  }
  return TAG_ALPHABET.charAt(sum % MODULUS);
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
    body = TAG_ALPHABET.charAt(rest % MODULUS) + body;
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
  const wayOut = 'Read the tag again: six characters such as 4K7-P34.';
  if (plain.length !== BODY_CHARS + 1) {
    return fail(problem('tag-length', 'tag', typed, 'A wheel tag has six characters', wayOut));
  }
  for (const character of plain) {
    if (!TAG_ALPHABET.includes(character)) {
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
