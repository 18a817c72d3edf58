import { describe, expect, test } from 'vitest';
import { normalCdf, parseTypedLength, parseTypedNumber, toMm } from '../../lib/units/index.ts';

describe('typed lengths', () => {
  const read: [string, number][] = [
    ['4.5', 4.5],
    ['4,5 mm', 4.5],
    ['4,5mm', 4.5],
    ['.5', 0.5],
    ['3 cm', 30],
    ['1 in', 25.4],
    ['1 3/16 in', 30.1625],
    ['1-3/16"', 30.1625],
    ['3/16 in', 4.7625],
    ['1¼ in', 31.75],
    ['½"', 12.7],
    ['−1,5 mm', -1.5],
    ['2″', 50.8],
  ];
  test.each(read)('%s is %d mm', (text, expectedMm) => {
    const result = parseTypedLength(text, 'mm');
    expect(result).toMatchObject({ ok: true });
    if (result.ok) expect(result.value.valueMm).toBeCloseTo(expectedMm, 12);
  });

  test.each([
    '',
    'abc',
    '1/0 in',
    '4 5',
    '1,2,3',
    '4.5 kg',
    '1 3/16/2',
    '--4',
    '1e3',
    '0x10',
    'toString',
    '5 constructor',
  ])('refuses %j and names field, value and way out', (text) => {
    const result = parseTypedLength(text, 'mm', 'body.value');
    expect(result.ok).toBe(false);
    if (!result.ok) {
      expect(result.error.field).toBe('body.value');
      expect(result.error.value).toBe(text);
      expect(result.error.wayOut).toContain('such as');
    }
  });

  test.each([
    ['9'.repeat(308), 'in'],
    ['9'.repeat(308), 'mm'],
    // 25.4 times this is finite, and no longer when 15 digits of it are kept.
    [`70775320270169905819${'0'.repeat(287)}`, 'in'],
  ] as const)('refuses a number that no length in mm can be made of', (digits, unit) => {
    expect(parseTypedLength(`${digits} ${unit}`, 'mm', 'depth').ok).toBe(unit === 'mm');
    const result = parseTypedLength(`-${digits} ${unit === 'mm' ? 'cm' : unit}`, 'mm', 'depth');
    expect(result).toMatchObject({
      ok: false,
      error: { code: 'length-number', field: 'depth', message: 'The number is too large' },
    });
  });

  test('a number without a unit takes the unit of the field', () => {
    const result = parseTypedLength('1/4', 'in');
    expect(result.ok && result.value.valueMm).toBe(6.35);
  });

  test('a comma is a decimal sign, never a thousands separator', () => {
    expect(parseTypedNumber('1,234')).toBe(1.234);
  });

  // Source: international inch of 1959, NIST SP 811 Appendix B.8: 1 in = 25.4 mm exactly.
  test('an inch is 25.4 mm exactly', () => {
    expect(toMm(1, 'in')).toBe(25.4);
    expect(toMm(25, 'in')).toBe(635);
  });
});

describe('the normal distribution', () => {
  // Source: JCGM 106:2012 Table 1 (from memory) and values of the inverse normal at full precision.
  const rows: [number, number][] = [
    [0.841621233572914, 0.8],
    [1.2815515655446, 0.9],
    [1.64485362695147, 0.95],
    [2.32634787404084, 0.99],
    [3.09023230616781, 0.999],
    [0, 0.5],
    [-6, 9.865876450376946e-10],
  ];
  test.each(rows)('Φ(%d) = %d', (z, p) => {
    expect(Math.abs(normalCdf(z) / p - 1)).toBeLessThan(1e-12);
  });
});
