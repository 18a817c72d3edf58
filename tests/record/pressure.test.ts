import { describe, expect, test } from 'vitest';
import { pressureRule } from '../../lib/record/index.ts';
import { KPA_PER_UNIT, parseTypedPressure } from '../../lib/units/index.ts';

describe('29 CFR 1910.177(f)(2)(i) and (f)(4): the 80 % boundary', () => {
  // "80% or less" means deflate and dismantle; "more than 80%" may be topped up. Exactly 80 % belongs to the first group.
  const rows: [found: number, recommended: number, asks: string][] = [
    [79.9, 100, 'deflate and take the core out'],
    [80, 100, 'deflate and take the core out'],
    [80.1, 100, 'may be topped up'],
    [520, 650, 'deflate and take the core out'],
    [0.56, 0.7, 'deflate and take the core out'],
    [0, 100, 'deflate and take the core out'],
    [15, 35, 'deflate and take the core out'],
  ];
  test.each(rows)('%d of %d: %s', (found, recommended, asks) => {
    expect(pressureRule(found, recommended).asks).toBe(asks);
  });
});

describe('typed pressures', () => {
  test('units are exact by definition and never guessed', () => {
    expect(KPA_PER_UNIT.psi).toBeCloseTo(6.894757293168361, 12);
    expect(parseTypedPressure('6,5 bar')).toEqual({ ok: true, value: 650 });
    expect(parseTypedPressure('94 psi')).toMatchObject({ ok: true });
    for (const text of ['94', 'psi', '', '-1 bar', '94 kg', '5 constructor']) {
      expect(parseTypedPressure(text, 'body.typed')).toMatchObject({
        ok: false,
        error: { field: 'body.typed', value: text },
      });
    }
  });
});
