import { expect, test } from 'vitest';
import { frameTimesOf } from '../../bench/support/frames.ts';

test('the median and the worst of a hundred frames are told from the times between them', () => {
  const times = [0];
  for (let i = 1; i <= 200; i += 1)
    times.push((times[i - 1] ?? 0) + (i === 50 || i === 51 ? 90 : i % 4 === 0 ? 20 : 16));
  expect(frameTimesOf(times)).toEqual({ medianMs: 16, worstOnePercentMs: 90, frames: 200 });
});

test('too few frames are no basis for a judgement', () => {
  expect(() => frameTimesOf([0, 16, 32])).toThrow('too few');
});
