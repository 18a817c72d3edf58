import { expect, test } from 'vitest';
import { measureText, sizeOfMark, uText } from '../../app/_screens/inspect/sizes.ts';
import { ok } from '../../lib/base/index.ts';

test('an angle is told in degrees with U, in either system of units', () => {
  expect(measureText('angle', 87.42, 0.61)).toBe('87.4° ± 1.2°');
  expect(measureText('angle', 87.42, 0.61, 'imperial')).toBe('87.4° ± 1.2°');
  expect(uText('angle', 0.614, 'imperial')).toBe('0.61°');
});

test('lengths and areas are told in their own units', () => {
  expect(measureText('length', 25.4, 0.254)).toBe('25.4 mm ± 0.5 mm');
  expect(measureText('area', 1234, 50)).toBe('12.3 ± 1.0 cm²');
  expect(uText('length', 0.5, 'metric')).toBe('0.5 mm');
  expect(uText('area', 50, 'metric')).toBe('0.50 cm²');
});

test('a mark of an angle is named by what it is', () => {
  const measured = { quantity: 'angle', value: 12, u: 0.5 } as never;
  const mark = {
    shape: {
      form: 'angle' as const,
      vertex: [0, 0] as [number, number],
      arms: [
        [9, 0],
        [9, 2],
      ] as never,
    },
    component: '',
    zone: 'gutter lip' as const,
    defect: null,
  };
  expect(sizeOfMark(mark, () => ok(measured), 'metric')).toBe('angle 12.0° ± 1.0°');
  expect(sizeOfMark(mark, null, 'metric')).toBe('angle');
});
