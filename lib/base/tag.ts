import { fail, ok, type Problem, problem, type Result } from './result.ts';

/**
 * Wheel tags: five characters and a check character, written in two groups of three. The check character is that of
 * ISO 7064, MOD 37,36 (hybrid system): every single wrong character is caught, and nearly every swap of two neighbours.
 * Alphabet: Crockford's base 32 (no I, L, O, U) without its last symbol, 31 in all; tags whose check character would be
 * none of these are not given out, so that a 1 is never an I.
 */
export const TAG_ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const BODY_CHARS = 5;
/** Characters that number the wheels; the fifth is chosen so that the check character is one of the alphabet. */
const NUMBER_CHARS = 4;
const BASE = TAG_ALPHABET.length;
/** How many tags there are: 923 521. */
export const TAGS = BASE ** NUMBER_CHARS;

const CHARACTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ';
const MODULUS = CHARACTERS.length;

/**
 * Check character of ISO 7064, MOD 37,36, for digits and capital letters; throws on anything else. Formula from memory:
 * P starts at 36; for each character P = 2·((P + a) mod 36, or 36 instead of 0) mod 37; the check character makes P + a = 1
 * mod 36.
 */
export function checkCharacterOf(text: string): string {
  let product = MODULUS;
  for (const character of text) {
    const value = CHARACTERS.indexOf(character);
    if (value < 0) throw new Error(`Broken invariant: "${character}" has no value in ISO 7064 MOD 37,36`);
    const sum = (product + value) % MODULUS || MODULUS;
    product = (sum * 2) % (MODULUS + 1);
  }
  return CHARACTERS.charAt((MODULUS + 1 - product) % MODULUS);
}

/** Tag for a whole number 0 … `TAGS` − 1, with its check character: `XXX-XXX`; each number has a tag of its own. */
export function formatTag(serial: number): string {
  if (!Number.isInteger(serial) || serial < 0 || serial >= TAGS) {
    throw new Error(`Broken invariant: tag serial ${serial} is not a whole number below ${TAGS}`);
  }
  let number = '';
  let rest = serial;
  for (let i = 0; i < NUMBER_CHARS; i += 1) {
    number = TAG_ALPHABET.charAt(rest % BASE) + number;
    rest = Math.floor(rest / BASE);
  }
  for (let i = 0; i < BASE; i += 1) {
    const body = number + TAG_ALPHABET.charAt((serial * 7 + i) % BASE);
    const check = checkCharacterOf(body);
    if (TAG_ALPHABET.includes(check)) return `${body.slice(0, 3)}-${body.slice(3)}${check}`;
  }
  throw new Error(`Broken invariant: no fifth character gives ${number} a check character`);
}

/**
 * Reads a tag as typed: any case, spaces and dashes ignored, the look-alikes I, L → 1 and O → 0.
 * Fails with a problem on field `tag` when it has another length, a strange character or a wrong check character.
 */
export function parseTag(typed: string): Result<string, Problem> {
  const plain = typed.toUpperCase().replace(/[\s-]/g, '').replace(/[IL]/g, '1').replace(/O/g, '0');
  const wayOut = 'Read the tag again: six characters such as 4K7-P3F.';
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
  if (checkCharacterOf(plain.slice(0, BODY_CHARS)) !== plain.charAt(BODY_CHARS)) {
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
