import { describe, expect, test } from 'vitest';
import { parseTypedHours } from '../../lib/units/index.ts';

describe('hours as typed', () => {
  test.each([
    ['12400', 12400],
    [' 12 400 ', 12400],
    ['12\u00a0400', 12400],
    ['12\u2009400', 12400],
    ['0', 0],
    ['1000000', 1_000_000],
  ])('%j are %d h', (typed, hours) => {
    expect(parseTypedHours(typed, 'hours')).toEqual({ ok: true, value: hours });
  });

  test.each([
    '12,400',
    '12.400',
    '12.5',
    '-3',
    '',
    'many',
    '1000001',
    '1e4',
    '12 4',
    '1 2400',
    '9'.repeat(400),
  ])('%j is refused: the thousands of one person are the decimals of another', (typed) => {
    expect(parseTypedHours(typed, 'hours')).toMatchObject({
      ok: false,
      error: {
        field: 'hours',
        wayOut: 'Type whole hours without separators, such as 12400.',
      },
    });
  });
});
