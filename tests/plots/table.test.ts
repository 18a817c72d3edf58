import { describe, expect, it } from 'vitest';
import { lengthScale } from '../../app/_plots/scale.ts';
import { csvOf } from '../../app/_plots/table.ts';

describe('a table of figures as a file', () => {
  const columns = [{ label: 'Person' }, { label: 'Difference, mm', decimals: 3 }];

  it('keeps figures in full, negative ones as they are, and leaves out what is not there', () => {
    const rows = [
      ['Ina', -0.123456789],
      ['Rey', null],
    ];
    expect(csvOf({ columns, rows })).toBe('Person,"Difference, mm"\r\nIna,-0.123456789\r\nRey,');
  });

  it('gives a spreadsheet no formula to run', () => {
    const text = csvOf({ columns, rows: [['=1+1', 2]] });
    expect(text.split('\r\n')[1]).toBe(`"'=1+1",2`);
  });
});

describe('lengths in a plot', () => {
  it('are shown in mm or inches, mean squares in the square of it', () => {
    expect(lengthScale('metric').of(25.4)).toBe(25.4);
    expect(lengthScale('imperial').of(25.4)).toBe(1);
    expect(lengthScale('imperial').square(25.4 ** 2)).toBeCloseTo(1, 12);
  });
});
