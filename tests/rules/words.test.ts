import { describe, expect, test } from 'vitest';
import { atClock, boundsText, monthsBefore, sizeText, sourceText, uText } from '../../lib/rules/index.ts';
import { Source } from '../../lib/tolerances/index.ts';

/** How sizes and sources read is our own specification; 1 in = 25.4 mm exactly (international yard and pound, 1959). */
describe('sizes in words', () => {
  test.each([
    ['gutter depth', 10.5, 'metric', '10.50 mm'],
    ['gutter depth', -0.004, 'metric', '0.00 mm'],
    ['gutter depth', 12.7, 'imperial', '0.5000 in'],
    ['corrosion area', 4050, 'metric', '40.5 cm²'],
    ['corrosion area', 6451.6, 'imperial', '10.00 in²'],
  ] as const)('%s of %d in %s: %s', (characteristic, value, units, text) => {
    expect(sizeText(characteristic, value, units)).toBe(text);
  });

  test('metric unless said otherwise', () => {
    expect(sizeText('gutter depth', 12.7)).toBe('12.70 mm');
    expect(uText('gutter depth', 0.1)).toBe('0.100 mm');
    expect(boundsText('gutter depth', { min: 12.7 })).toBe('at least 12.70 mm');
  });

  test.each([
    ['gutter depth', 0.1, 'metric', '0.100 mm'],
    ['gutter depth', 0.0005, 'metric', '0.001 mm'],
    ['gutter depth', 0.00049, 'metric', 'under 0.001 mm'],
    ['gutter depth', 0, 'metric', '0.000 mm'],
    ['gutter depth', 0.254, 'imperial', '0.01000 in'],
    ['gutter depth', 0.0001, 'imperial', 'under 0.00001 in'],
    ['corrosion area', 150, 'metric', '1.50 cm²'],
    ['corrosion area', 0.4, 'metric', 'under 0.01 cm²'],
    ['corrosion area', 645.16, 'imperial', '1.000 in²'],
    ['corrosion area', 0.3, 'imperial', 'under 0.001 in²'],
  ] as const)('u of %s of %d in %s: %s', (characteristic, u, units, text) => {
    expect(uText(characteristic, u, units)).toBe(text);
  });

  test('bounds on one side or both', () => {
    expect(boundsText('gutter depth', { min: 10.5 }, 'metric')).toBe('at least 10.50 mm');
    expect(boundsText('gutter depth', { max: 2 }, 'metric')).toBe('at most 2.00 mm');
    expect(boundsText('gutter depth', { min: 4, max: 16 }, 'metric')).toBe('4.00 mm to 16.00 mm');
    expect(boundsText('gutter depth', { min: 0, max: 0 }, 'metric')).toBe('0.00 mm to 0.00 mm');
    expect(boundsText('gutter depth', { min: 25.4 }, 'imperial')).toBe('at least 1.0000 in');
  });
});

describe('places and sources in words', () => {
  test('a clock position, or nothing', () => {
    expect([atClock(3), atClock(null)]).toEqual([" at 3 o'clock", '']);
  });

  test('a source with what it gives of section and page, and its kind unless published', () => {
    const source = (over: object) =>
      sourceText(Source.parse({ title: 'Manual', kind: 'published', ...over }));
    expect(source({})).toBe('Manual');
    expect(source({ section: '4.1', page: 'p. 12' })).toBe('Manual 4.1 p. 12');
    expect(source({ page: 'p. 12', edition: '2019' })).toBe('Manual p. 12');
    expect(source({ section: '4.1', kind: 'from memory' })).toBe('Manual 4.1, from memory');
    expect(source({ kind: 'demonstration' })).toBe('Manual, demonstration');
  });
});

/** The Gregorian calendar; clipping to the end of the month is our own choice. */
describe('the same day of the month some months earlier', () => {
  test.each([
    ['2026-11-02', 12, '2025-11-02'],
    ['2026-11-02', 0, '2026-11-02'],
    ['2026-11-02', 11, '2025-12-02'],
    ['2026-01-15', 1, '2025-12-15'],
    ['2026-12-31', 1, '2026-11-30'],
    ['2026-10-31', 1, '2026-09-30'],
    ['2026-07-31', 1, '2026-06-30'],
    ['2026-05-31', 1, '2026-04-30'],
    ['2026-08-31', 1, '2026-07-31'],
    ['2026-03-31', 1, '2026-02-28'],
    ['2024-03-31', 1, '2024-02-29'],
    ['2000-03-30', 1, '2000-02-29'],
    ['2100-03-31', 1, '2100-02-28'],
    ['2024-02-29', 12, '2023-02-28'],
    ['2026-03-01', 1, '2026-02-01'],
    ['2026-03-09T10:00:00.000Z', 2, '2026-01-09'],
    ['1000-06-01', 12, '0999-06-01'],
  ])('%s, %d months before: %s', (on, months, before) => {
    expect(monthsBefore(on, months)).toBe(before);
  });
});
