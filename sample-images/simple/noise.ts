/** Seeded noise and random numbers: the same seed draws the same picture on every machine. */

/** A vector or a linear colour. */
export type Vec = readonly [number, number, number];

const TABLE_SIZE = 65536;
const TABLE = Float32Array.from({ length: TABLE_SIZE }, (_, i) => {
  let h = Math.imul(i + 1, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
});

/** Value of a lattice point, 0 … 1. */
function lattice(x: number, y: number, z: number, seed: number): number {
  const h =
    Math.imul(x, 0x27d4eb2d) ^
    Math.imul(y, 0x165667b1) ^
    Math.imul(z, 0x9e3779b1) ^
    Math.imul(seed, 0x85ebca6b);
  return TABLE[(h ^ (h >>> 15)) & (TABLE_SIZE - 1)] ?? 0;
}

function mix(a: number, b: number, t: number): number {
  return a + (b - a) * t;
}

/** Smooth noise over space with a lattice of 1, 0 … 1. */
export function noise(x: number, y: number, z: number, seed: number): number {
  const [xi, yi, zi] = [Math.floor(x), Math.floor(y), Math.floor(z)];
  const [xf, yf, zf] = [x - xi, y - yi, z - zi];
  const u = xf * xf * (3 - 2 * xf);
  const v = yf * yf * (3 - 2 * yf);
  const w = zf * zf * (3 - 2 * zf);
  const at = (i: number, j: number, k: number) => lattice(xi + i, yi + j, zi + k, seed);
  const near = mix(mix(at(0, 0, 0), at(1, 0, 0), u), mix(at(0, 1, 0), at(1, 1, 0), u), v);
  const far = mix(mix(at(0, 0, 1), at(1, 0, 1), u), mix(at(0, 1, 1), at(1, 1, 1), u), v);
  return mix(near, far, w);
}

/** Octaves of noise added up, each half as large and twice as fine, 0 … 1. */
export function layers(x: number, y: number, z: number, octaves: number, seed: number): number {
  let sum = 0;
  let weight = 0.5;
  let scale = 1;
  let total = 0;
  for (let i = 0; i < octaves; i += 1) {
    sum += weight * noise(x * scale, y * scale, z * scale, seed + i * 131);
    total += weight;
    weight *= 0.5;
    scale *= 2.03;
  }
  return sum / total;
}

/** A stream of random numbers 0 … 1 from a whole-number seed (mulberry32). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** 0 below `from`, 1 above `to`, smooth between. */
export function ramp(from: number, to: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)));
  return t * t * (3 - 2 * t);
}

export function blend(a: Vec, b: Vec, t: number): Vec {
  return [mix(a[0], b[0], t), mix(a[1], b[1], t), mix(a[2], b[2], t)];
}
export function add(a: Vec, b: Vec): Vec {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}
export function minus(a: Vec, b: Vec): Vec {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}
export function times(a: Vec, k: number): Vec {
  return [a[0] * k, a[1] * k, a[2] * k];
}
/** Product by component, for colour times light. */
export function tint(a: Vec, b: Vec): Vec {
  return [a[0] * b[0], a[1] * b[1], a[2] * b[2]];
}
export function dot(a: Vec, b: Vec): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
export function cross(a: Vec, b: Vec): Vec {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
export function unit(a: Vec): Vec {
  return times(a, 1 / Math.hypot(a[0], a[1], a[2]));
}
