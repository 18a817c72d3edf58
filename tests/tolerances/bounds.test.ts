import { describe, expect, test } from 'vitest';
import { boundsAsSize, nominalU } from '../../lib/tolerances/index.ts';

const nominal = { value: 40, u: 0.5 };

describe('bounds as a size', () => {
  test('of the value are what they are, said so or not', () => {
    expect(boundsAsSize({}, { min: 1 })).toEqual({ min: 1 });
    expect(boundsAsSize({ boundsOf: 'value', nominal }, { min: 1, max: 2 })).toEqual({ min: 1, max: 2 });
  });

  test('from nominal are added to it, end by end; an open end stays open', () => {
    const row = { boundsOf: 'from nominal', nominal } as const;
    expect(boundsAsSize(row, { min: -3, max: 1 })).toStrictEqual({ min: 37, max: 41 });
    expect(boundsAsSize(row, { min: -3 })).toStrictEqual({ min: 37 });
    expect(boundsAsSize(row, { max: 0 })).toStrictEqual({ max: 40 });
  });

  test('in percent lost change ends: the most that may be lost is the least size', () => {
    const row = { boundsOf: 'percent lost', nominal } as const;
    expect(boundsAsSize(row, { min: -5, max: 10 })).toStrictEqual({ min: 36, max: 42 });
    expect(boundsAsSize(row, { max: 25 })).toStrictEqual({ min: 30 });
    expect(boundsAsSize(row, { min: 0 })).toStrictEqual({ max: 40 });
  });

  test('need the nominal size unless they are of the value', () => {
    const message = 'Broken invariant: relative bounds without a nominal size';
    expect(() => boundsAsSize({ boundsOf: 'from nominal' }, { min: 1 })).toThrow(message);
    expect(() => boundsAsSize({ boundsOf: 'percent lost' }, { max: 1 })).toThrow(message);
  });
});

describe('what the nominal size adds to the uncertainty', () => {
  const keep = { min: -1, max: 10 };
  test('is nothing for bounds of the value', () => {
    expect(nominalU({ nominal, keep, repair: null })).toBe(0);
    expect(nominalU({ boundsOf: 'value', nominal, keep, repair: null })).toBe(0);
  });

  test('is its own uncertainty for bounds from nominal', () => {
    expect(nominalU({ boundsOf: 'from nominal', nominal, keep, repair: null })).toBe(0.5);
  });

  test('in percent is the part of it that is left at the bound where most is left', () => {
    const of = (bounds: object, repair: object | null = null) =>
      nominalU({ boundsOf: 'percent lost', nominal, keep: bounds, repair });
    expect(of({ max: 10 })).toBeCloseTo(0.45, 12);
    expect(of({ min: -20, max: 10 })).toBeCloseTo(0.6, 12);
    expect(of({ max: 10 }, { min: -30, max: 20 })).toBeCloseTo(0.65, 12);
    expect(of({ max: 10 }, { max: 240 })).toBeCloseTo(0.7, 12);
  });
});
