import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatTag, parseTag, TAG_ALPHABET } from '../../lib/base/index.ts';

const serial = fc.integer({ min: 0, max: 31 ** 5 - 1 });

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
    const tag = formatTag(1_234_567).replace('-', '');
    for (let i = 0; i < tag.length; i += 1) {
      for (const other of TAG_ALPHABET) {
        if (other === tag.charAt(i)) continue;
        expect(parseTag(tag.slice(0, i) + other + tag.slice(i + 1)).ok).toBe(false);
      }
    }
  });

  test('every swap of neighbours is caught', () => {
    fc.assert(
      fc.property(serial, fc.integer({ min: 0, max: 4 }), (n, i) => {
        const tag = formatTag(n).replace('-', '');
        const a = tag.charAt(i);
        const b = tag.charAt(i + 1);
        fc.pre(a !== b);
        expect(parseTag(tag.slice(0, i) + b + a + tag.slice(i + 2)).ok).toBe(false);
      }),
      { seed: 8 },
    );
  });
});
