import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { HEAT_STEPS, heatKey, heatOf } from '../../app/_drawings/heat.ts';

describe('the shade of a count', () => {
  test('is none for nothing, the last for the largest, and never lighter for more', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), (largest) => {
        const steps = Array.from({ length: largest + 1 }, (_, count) => heatOf(count, largest));
        expect([steps[0], steps.at(-1)]).toEqual([0, HEAT_STEPS]);
        expect(Math.min(...steps.slice(1))).toBeGreaterThan(0);
        expect(steps).toEqual([...steps].sort((a, b) => a - b));
      }),
      { seed: 8, numRuns: 100 },
    );
    expect(heatOf(0, 0)).toBe(0);
  });

  test('is told by counts that lie on it, each count once', () => {
    expect(heatKey(8).map(({ words }) => words)).toEqual(['0', '1', '2 to 3', '4', '5 to 6', '7 to 8']);
    expect(heatKey(2)).toEqual([
      { step: 0, words: '0' },
      { step: 3, words: '1' },
      { step: 5, words: '2' },
    ]);
    expect(heatKey(0)).toEqual([{ step: 0, words: '0' }]);
  });
});
