/** A point or a direction in space, mm or without unit. */
export type Vec3 = readonly [number, number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scaled = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
/** a + k·b. */
export const along = (a: Vec3, b: Vec3, k: number): Vec3 => [
  a[0] + b[0] * k,
  a[1] + b[1] * k,
  a[2] + b[2] * k,
];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
// Not Math.hypot: its care for overflow makes it many times slower, and lengths here are far from any.
export const norm = (a: Vec3): number => Math.sqrt(dot(a, a));
export const unit = (a: Vec3): Vec3 => scaled(a, 1 / norm(a));
export const distance = (a: Vec3, b: Vec3): number => norm(subtract(a, b));

/** Turns `a` about the direction of `turn` by the length of `turn` in radians (Rodrigues' formula). */
export function rotated(a: Vec3, turn: Vec3): Vec3 {
  const angle = norm(turn);
  if (angle < 1e-12) return add(a, cross(turn, a));
  const axis = scaled(turn, 1 / angle);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return along(along(scaled(a, c), cross(axis, a), s), axis, dot(axis, a) * (1 - c));
}
