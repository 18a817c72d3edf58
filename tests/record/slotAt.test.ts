import { describe, expect, it } from 'vitest';
import { foldRegister, kinds, slotAt } from '../../lib/record/index.ts';
import { at, entry, FITTING, REMOVAL, RING, STAMPS, thing, WHEEL } from '../support/entries.ts';

const DAY_MS = 86_400_000;
const OTHER = thing(5);
const on = (day: number) => at(day * DAY_MS);
const fitted = (wheel: string, slot: string, day: number) =>
  entry(kinds.componentFitted, RING, { ...FITTING, wheel, slot }, { ms: day * DAY_MS });
const removed = (wheel: string, day: number) =>
  entry(kinds.componentRemoved, RING, { ...REMOVAL, wheel, reason: 'wear' }, { ms: day * DAY_MS });
const described = entry(
  kinds.componentDescribed,
  RING,
  { componentKind: 'lock ring', maker: '', series: '', stamp: 'X', ...STAMPS, serial: '7' },
  { ms: 0 },
);

describe('the slot that a part stood in', () => {
  // In one wheel at the front, in another, and back in the first one at the rear.
  const register = foldRegister([
    described,
    fitted(WHEEL, 'front lock ring', 1),
    removed(WHEEL, 10),
    fitted(OTHER, 'lock ring', 11),
    removed(OTHER, 20),
    fitted(WHEEL, 'rear lock ring', 21),
  ]);

  it('is that of the day, not the latest one', () => {
    expect(slotAt(register, RING, WHEEL, on(5))).toBe('front lock ring');
    expect(slotAt(register, RING, OTHER, on(15))).toBe('lock ring');
    expect(slotAt(register, RING, WHEEL, on(30))).toBe('rear lock ring');
  });

  it('is the last one before while it was out of the wheel', () => {
    expect(slotAt(register, RING, WHEEL, on(15))).toBe('front lock ring');
  });

  it('is the first one after where it was noted late', () => {
    expect(slotAt(register, RING, OTHER, on(2))).toBe('lock ring');
  });

  it('is none in a wheel that it never was in, or for a part that nobody knows', () => {
    expect(slotAt(register, RING, thing(9), on(5))).toBeNull();
    expect(slotAt(register, thing(8), WHEEL, on(5))).toBeNull();
    expect(slotAt(register, RING, null, on(5))).toBeNull();
  });
});
