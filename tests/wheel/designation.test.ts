import { describe, expect, test } from 'vitest';
import { DIAMETER_CODES, parseDesignation } from '../../lib/wheel/index.ts';

describe('size designations', () => {
  // Sources: pattern diameter-width/flange height, from memory; "44.00/5.0 [6.0]": a tyre maker's data book of 2010, note 3;
  // tyre/rim pairs such as 22.00/3.0: a tyre maker's sheet. See the trade notes on ISO 4250-3.
  const understood: [string, object][] = [
    ['25-22.00/3.0', { diameterCode: 25, widthIn: 22, flangeHeightIn: 3, specifiedDiameterMm: 635 }],
    ['49-17.00/3.5', { diameterCode: 49, widthIn: 17, flangeHeightIn: 3.5, specifiedDiameterMm: 1244.6 }],
    ['51-24.00/5.0', { diameterCode: 51, widthIn: 24, flangeHeightIn: 5 }],
    ['57-29.00/6.0', { diameterCode: 57, widthIn: 29, flangeHeightIn: 6 }],
    ['44.00/5.0 [6.0]', { widthIn: 44, flangeHeightIn: 5, flangeWidthIn: 6 }],
    ['63-44.00/5.0 [6.0]', { diameterCode: 63, widthIn: 44, flangeHeightIn: 5, flangeWidthIn: 6 }],
    ['22.00/3.0', { widthIn: 22, flangeHeightIn: 3 }],
    ['28.00/3.5-33', { diameterCode: 33, widthIn: 28 }],
    [' 25 - 22,00 / 3,0 ', { diameterCode: 25, widthIn: 22, flangeHeightIn: 3 }],
    ['25x17.00/2.0', { diameterCode: 25, widthIn: 17 }],
    ['51−40.00/4.5', { diameterCode: 51, widthIn: 40 }],
    ['51–40.00/4.5', { diameterCode: 51, widthIn: 40 }],
    ['51 ‑ 40.00/4.5', { diameterCode: 51, widthIn: 40 }],
    ['28.00/3.5−33', { diameterCode: 33, widthIn: 28 }],
  ];
  test.each(understood)('%s is understood', (text, parts) => {
    const result = parseDesignation(text);
    expect(result).toMatchObject({ ok: true, value: { ...parts, text } });
  });

  test('a designation without a diameter has no diameter', () => {
    const result = parseDesignation('44.00/5.0 [6.0]');
    expect(result.ok && 'diameterCode' in result.value).toBe(false);
  });

  test.each([
    '',
    'big wheel',
    '22.00',
    '26-22.00/3.0',
    '25-22.00/3.0-25',
    '25-2.00/3.0',
    '25-22.00/',
    '25--22',
    '25-22.00/3.0 [6',
  ])('%j is not understood, and the problem says what to write', (text) => {
    const result = parseDesignation(text);
    expect(result.ok).toBe(false);
    if (!result.ok)
      expect(result.error).toMatchObject({
        field: 'designation',
        value: text,
        wayOut: expect.stringContaining('25-22.00/3.0'),
      });
  });

  // Source: ISO 4250-3 diameter codes; for 5° full-taper rims specified diameter = code × 25.4 mm (from memory).
  test('the specified diameter of a full-taper rim is its code times 25.4 mm', () => {
    const derived = {
      25: 635,
      29: 736.6,
      33: 838.2,
      35: 889,
      39: 990.6,
      43: 1092.2,
      45: 1143,
      49: 1244.6,
      51: 1295.4,
      57: 1447.8,
      63: 1600.2,
    };
    for (const [code, diameterMm] of Object.entries(derived)) {
      const result = parseDesignation(`${code}-22.00/3.0`);
      expect(result.ok && result.value.specifiedDiameterMm).toBeCloseTo(diameterMm, 9);
    }
    expect(DIAMETER_CODES).toHaveLength(12);
  });

  test('code 24 gets no specified diameter: its rims have other contours', () => {
    const result = parseDesignation('24-10.00/1.5');
    expect(result.ok && result.value.specifiedDiameterMm).toBeUndefined();
  });
});
