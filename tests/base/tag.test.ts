import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkCharacterOf, formatTag, parseTag, TAG_ALPHABET, TAGS } from '../../lib/base/index.ts';

const serial = fc.integer({ min: 0, max: TAGS - 1 });

describe('wheel tags', () => {
  test('a tag reads back in any case, with or without its dash', () => {
    fc.assert(
      fc.property(serial, (n) => {
        const tag = formatTag(n);
        expect(parseTag(tag)).toEqual({ ok: true, value: tag });
        expect(parseTag(tag.toLowerCase().replace('-', ' '))).toEqual({ ok: true, value: tag });
      }),
      { seed: 7 },
    );
  });

  test('every single wrong character is caught', () => {
    const tag = formatTag(123_456).replace('-', '');
    for (let i = 0; i < tag.length; i += 1) {
      for (const other of TAG_ALPHABET) {
        if (other === tag.charAt(i)) continue;
        expect(parseTag(tag.slice(0, i) + other + tag.slice(i + 1)).ok).toBe(false);
      }
    }
  });

  test('nearly every swap of neighbours is caught, as ISO 7064 says of its hybrid systems', () => {
    let swaps = 0;
    let missed = 0;
    for (let n = 0; n < TAGS; n += 997) {
      const tag = formatTag(n).replace('-', '');
      for (let i = 0; i + 1 < tag.length; i += 1) {
        const [a, b] = [tag.charAt(i), tag.charAt(i + 1)];
        if (a === b) continue;
        swaps += 1;
        if (parseTag(tag.slice(0, i) + b + a + tag.slice(i + 2)).ok) missed += 1;
      }
    }
    expect(swaps).toBeGreaterThan(4000);
    expect(missed / swaps).toBeLessThan(0.01);
  });

  test('every number has a tag of its own, and none has a check character outside the alphabet', () => {
    const tags = new Set<string>();
    for (let n = 0; n < TAGS; n += 31) tags.add(formatTag(n));
    expect(tags.size).toBe(Math.ceil(TAGS / 31));
    expect([...tags].every((tag) => TAG_ALPHABET.includes(tag.charAt(6)))).toBe(true);
  });

  test('the check character is that of a published identifier: Global Release Identifier A1-2425G-ABC1234002-M (from memory)', () => {
    expect(checkCharacterOf('A12425GABC1234002')).toBe('M');
  });
});
