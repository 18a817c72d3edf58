import { describe, expect, test } from 'vitest';
import { dayAtHours, hoursOn, hoursPerDay, isoDay } from '../../lib/history/index.ts';
import { dayAt, notesOf } from './wearOf.ts';

describe('hours on duty of a part', () => {
  test('on the day of a note are what was noted, give or take as a rectangular law', () => {
    expect(hoursOn(notesOf(400), dayAt(400))).toEqual({ hours: 5000, u: 5 / Math.sqrt(3) });
  });

  test('between notes are worked evenly, and least sure half-way', () => {
    const [quarter, half] = [hoursOn(notesOf(400), dayAt(100)), hoursOn(notesOf(400), dayAt(200))];
    expect(quarter?.hours).toBeCloseTo(2000, 9);
    expect(half?.hours).toBeCloseTo(3000, 9);
    expect(half?.u ?? 0).toBeGreaterThan(quarter?.u ?? 0);
  });

  test('beyond the notes go on at their rate, never below zero, and less sure with every day', () => {
    const later = [410, 500].map((day) => hoursOn(notesOf(400), dayAt(day)));
    expect(later.map((one) => one?.hours)).toEqual([5100, 6000]);
    expect(later[1]?.u ?? 0).toBeGreaterThan(later[0]?.u ?? 0);
    expect(hoursOn(notesOf(400), dayAt(-50))?.hours).toBeCloseTo(500, 9);
    expect(hoursOn(notesOf(400), dayAt(-500))?.hours).toBe(0);
  });

  test('after a single note are from none to 24 a day; before it, without one, and where notes fall, not known', () => {
    const [first] = notesOf(400);
    if (first === undefined) throw new Error('no note');
    expect(hoursOn([first], dayAt(10))?.hours).toBe(1120);
    expect(hoursOn([first], dayAt(-10))).toBeNull();
    expect(hoursOn([], dayAt(10))).toBeNull();
    expect(hoursOn([first, { ...first, on: dayAt(50), hours: 500 }], dayAt(60))).toBeNull();
  });

  test('a day has those of the last year where there are notes, and none from notes close together', () => {
    expect(hoursPerDay(notesOf(400))).toBeCloseTo(10, 9);
    expect(hoursPerDay(notesOf(30))).toBeNull();
    const [first, last] = notesOf(400);
    if (first === undefined || last === undefined) throw new Error('no notes');
    const slower = { ...last, on: dayAt(600), hours: 5200 };
    expect(hoursPerDay([first, last, slower])).toBeCloseTo(1, 9);
  });

  test('are reached on a day at their rate, and never where the part does not work', () => {
    expect(dayAtHours(5100, { hours: 5000, u: 0, on: dayAt(400) }, 10)).toBe(dayAt(410));
    expect(dayAtHours(4000, { hours: 5000, u: 0, on: dayAt(400) }, 10)).toBe(dayAt(400));
    expect(dayAtHours(5100, { hours: 5000, u: 0, on: dayAt(400) }, 0)).toBeNull();
    expect(isoDay(1e12)).toBe('9999-12-31');
  });
});
