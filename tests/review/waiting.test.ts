import { expect, test } from 'vitest';
import { daysWaited, waitedWords } from '../../lib/review/index.ts';

const SINCE = '2026-05-04T08:00:00.000Z';

test.each([
  ['2026-05-05T07:59:59.999Z', 0, 'waiting less than a day'],
  ['2026-05-05T08:00:00.000Z', 1, 'waiting 1 day'],
  ['2026-05-06T08:00:00.001Z', 2, 'waiting 2 days'],
  ['2026-05-03T08:00:00.000Z', 0, 'waiting less than a day'],
])('what was submitted on the fourth has waited, at %s: %d, %s', (now, days, words) => {
  expect(daysWaited(SINCE, now)).toBe(days);
  expect(waitedWords(SINCE, now)).toBe(words);
});
