import { describe, expect, test } from 'vitest';
import { counted } from '../../lib/base/index.ts';

describe('numbers with the word for what is counted', () => {
  test.each([
    [0, '0 rows'],
    [1, '1 row'],
    [2, '2 rows'],
    [21, '21 rows'],
  ])('%d is told as "%s"', (count, told) => {
    expect(counted(count, 'row')).toBe(told);
  });

  test('a plural that is no mere s is given, and does not stand for one', () => {
    expect(counted(1, 'entry', 'entries')).toBe('1 entry');
    expect(counted(3, 'entry', 'entries')).toBe('3 entries');
  });
});
