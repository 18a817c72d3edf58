import { fitLine, type Line, type LinePoint } from './line.ts';
import type { WearPoint } from './series.ts';

/** A gauge that is said to read without any error still cannot read finer than this, mm. Own choice. */
const U_LEAST_MM = 0.001;
/** Twice is enough: the slope moves weights only where the hours are very uncertain. */
const ROUNDS = 2;

/**
 * Points as a line takes them: the uncertainty of their time turned into one of their value by the slope, which is the
 * effective variance method (Orear, American Journal of Physics 50, 1982, 912, from memory).
 */
export function linePoints(points: readonly WearPoint[], slope: number): LinePoint[] {
  return points.map(({ x, xU, valueMm, uMm }) => ({
    x,
    y: valueMm,
    u: Math.max(U_LEAST_MM, Math.hypot(uMm, slope * xU)),
  }));
}

/** The line through the points of one component; null for fewer than two, or for one time. */
export function ownLine(points: readonly WearPoint[]): Line | null {
  let line = fitLine(linePoints(points, 0), 'stated');
  for (let round = 0; round < ROUNDS && line.ok; round += 1) {
    line = fitLine(linePoints(points, line.value.slope), 'stated');
  }
  return line.ok ? line.value : null;
}
