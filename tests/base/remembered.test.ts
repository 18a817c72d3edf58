import { expect, test } from 'vitest';
import { remembered, uniformFrom } from '../../lib/base/index.ts';

test('a value is worked out once for each object, also when it is null', () => {
  let asked = 0;
  const half = remembered(({ n }: { n: number }) => {
    asked += 1;
    return n === 0 ? null : n / 2;
  });
  const [four, none] = [{ n: 4 }, { n: 0 }];
  expect([half(four), half(four), half(none), half(none), half({ n: 4 })]).toEqual([2, 2, null, null, 2]);
  expect(asked).toBe(3);
});

test('seeded numbers are the same each time, differ by seed and fill the range evenly', () => {
  const [a, b, other] = [uniformFrom(7), uniformFrom(7), uniformFrom(8)];
  const drawn = Array.from({ length: 4000 }, a);
  expect(drawn).toEqual(Array.from({ length: 4000 }, b));
  expect(drawn.slice(0, 10)).not.toEqual(Array.from({ length: 10 }, other));
  expect(Math.min(...drawn)).toBeGreaterThanOrEqual(0);
  expect(Math.max(...drawn)).toBeLessThan(1);
  const tenths = drawn.reduce((counts, one) => {
    counts[Math.floor(one * 10)] = (counts[Math.floor(one * 10)] ?? 0) + 1;
    return counts;
  }, [] as number[]);
  // 400 each, standard deviation 19: five of them either way.
  for (const count of tenths) expect(Math.abs(count - 400)).toBeLessThan(95);
});
