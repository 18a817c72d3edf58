import type { ProfilePiece } from './profile.ts';

/** Mean direction out of the metal, by length; shorter than one where the pieces face different ways. */
export function meanNormal(pieces: readonly ProfilePiece[]): [number, number] {
  const sum = pieces.reduce(
    (all, { from, to, normal }) => {
      const weight = Math.hypot(to[0] - from[0], to[1] - from[1]);
      return { x: all.x + normal[0] * weight, r: all.r + normal[1] * weight, weight: all.weight + weight };
    },
    { x: 0, r: 0, weight: 0 },
  );
  return [sum.x / sum.weight, sum.r / sum.weight];
}

/** Area of pieces turned about the axle, by Guldin’s rule: length times the way of its middle, mm². */
export function turnedArea(pieces: readonly ProfilePiece[]): number {
  return pieces.reduce(
    (sum, { from, to }) => sum + Math.PI * (from[1] + to[1]) * Math.hypot(to[0] - from[0], to[1] - from[1]),
    0,
  );
}

/** Mean radius, by length, mm. */
export function meanRadius(pieces: readonly ProfilePiece[]): number {
  const weights = pieces.map(({ from, to }) => Math.hypot(to[0] - from[0], to[1] - from[1]));
  const total = weights.reduce((sum, one) => sum + one, 0);
  return (
    pieces.reduce((sum, { from, to }, i) => sum + ((from[1] + to[1]) / 2) * (weights[i] ?? 0), 0) / total
  );
}

/** From the least to the largest radius, in words. */
export function radiiOf(pieces: readonly ProfilePiece[]): string {
  const radii = pieces.flatMap(({ from, to }) => [from[1], to[1]]);
  const [least, most] = [Math.round(Math.min(...radii)), Math.round(Math.max(...radii))];
  return least === most ? `radius ${least} mm` : `radius ${least} to ${most} mm`;
}
