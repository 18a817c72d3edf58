import { expect, test } from 'vitest';
import { angleArc } from '../../app/_canvas/angleArc.ts';
import type { PointPx } from '../../lib/marks/index.ts';

const arcBetween = (a: PointPx, b: PointPx, scale = 1) =>
  angleArc({ form: 'angle', vertex: [100, 100], arms: [a, b] }, scale);

test('the arc stands at the vertex and runs from one arm to the other the shorter way', () => {
  const arc = arcBetween([200, 100], [100, 300]);
  expect(arc).toMatchObject({ at: [100, 100], from: 0, back: false });
  expect(arc.to).toBeCloseTo(Math.PI / 2, 12);
  expect(arcBetween([100, 300], [200, 100]).back).toBe(true);
  // Across the direction of −x, where directions jump by a whole turn.
  expect(arcBetween([0, 90], [0, 110]).back).toBe(true);
  expect(arcBetween([0, 110], [0, 90]).back).toBe(false);
});

test('it keeps its size on the screen, and stays within short arms', () => {
  const far: [PointPx, PointPx] = [
    [900, 100],
    [100, 900],
  ];
  expect(arcBetween(...far, 2).radiusPx).toBeCloseTo(arcBetween(...far, 1).radiusPx / 2, 12);
  expect(arcBetween([110, 100], [100, 900]).radiusPx).toBeLessThan(10);
});
