import { add, cross, dot, minus, times, unit, type Vec } from './noise.ts';
import type { Field } from './profile.ts';

/** Place on a part's surface: axial, along the circumference at the reference radius, height over it; mm. */
export type Place = readonly [a: number, arc: number, r: number];

/** How a part's surface looks. Shares are 0 … 1; more is more. */
export interface Finish {
  readonly paint: Vec;
  /** Share of the paint that is gone. */
  readonly worn: number;
  readonly rust: number;
  readonly dust: number;
  /** Places polished by the parts that bear on them: axial and radial ranges. */
  readonly polished: readonly {
    readonly a: readonly [number, number];
    readonly r: readonly [number, number];
  }[];
}

/** A crack as it runs on the surface, and how wide it opens. */
export interface Crack {
  readonly branches: readonly (readonly Place[])[];
  readonly widthMm: number;
}

/** A rust patch, outlined on a surface that faces outwards. */
export interface Patch {
  readonly outline: readonly Place[];
}

export interface Part {
  readonly field: Field;
  readonly radiusMm: number;
  /** Half the distance between the two ends of a split ring, mm; null for a closed one. */
  readonly halfGapMm: number | null;
  /** Round pieces that are broken out. */
  readonly bites: readonly { readonly at: Vec; readonly radiusMm: number }[];
  readonly finish: Finish;
  readonly cracks: readonly Crack[];
  readonly patches: readonly Patch[];
}

/** A card or a rule: a thin plate lying at `centre` with its face up along `normal` and its width along `along`. */
export interface Plate {
  readonly kind: 'card' | 'sheet' | 'rule';
  readonly centre: Vec;
  readonly along: Vec;
  readonly normal: Vec;
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface Ground {
  /** Up, out of the ground. */
  readonly normal: Vec;
  readonly offset: number;
}

export interface Scene {
  readonly parts: readonly Part[];
  readonly plates: readonly Plate[];
  readonly ground: Ground | null;
  readonly sun: Vec;
  /** Up in the world, for dust and sky. */
  readonly up: Vec;
  readonly seed: number;
}

const PLATE_MM = 0.9;

/** Axial place, arc and height of a point over a part's reference radius. */
export function placeOf(part: Part, x: number, y: number, z: number): Place {
  const radial = z + part.radiusMm;
  return [x, part.radiusMm * Math.atan2(y, radial), Math.hypot(y, radial) - part.radiusMm];
}

/** The point of a place. */
export function pointOf(part: Part, [a, arc, r]: Place): Vec {
  const angle = arc / part.radiusMm;
  const radius = part.radiusMm + r;
  return [a, radius * Math.sin(angle), radius * Math.cos(angle) - part.radiusMm];
}

/** The place where a part's surface lies when one comes down from far outside at an axial place. */
export function settled(part: Part, a: number, arc: number): Place {
  let r = 130;
  for (let i = 0; i < 400; i += 1) r -= part.field(a, r) * 0.9;
  return [a, arc, r];
}

function partDistance(part: Part, x: number, y: number, z: number): number {
  const radial = z + part.radiusMm;
  let d = part.field(x, Math.sqrt(y * y + radial * radial) - part.radiusMm);
  if (part.halfGapMm !== null && radial > 0) d = Math.max(d, part.halfGapMm - Math.abs(y));
  for (const { at, radiusMm } of part.bites) {
    d = Math.max(d, radiusMm - Math.hypot(x - at[0], y - at[1], z - at[2]));
  }
  return d;
}

/** Directions of a plate: along its width, along its height, out of its face. */
export function plateFrame(plate: Plate): readonly [Vec, Vec, Vec] {
  const n = unit(plate.normal);
  const u = unit(minus(plate.along, times(n, dot(plate.along, n))));
  return [u, cross(n, u), n];
}

/** Corner points of a plate's face in order round it, beginning where width and height are least. */
export function plateCorners(plate: Plate): Vec[] {
  const [u, v, n] = plateFrame(plate);
  const [w, h] = [plate.widthMm / 2, plate.heightMm / 2];
  const top = add(plate.centre, times(n, PLATE_MM / 2));
  return (
    [
      [-w, -h],
      [w, -h],
      [w, h],
      [-w, h],
    ] as const
  ).map(([i, j]) => add(top, add(times(u, i), times(v, j))));
}

/** A distance function over the whole scene that also says what is nearest. */
export interface Distance {
  (x: number, y: number, z: number): number;
  /** Index of the nearest body at the last call: parts first, then plates, then the ground. */
  nearest: number;
}

/** Builds the scene's distance function. `rounding` of a card's corners is that of ID-1 cards, 3.2 mm. */
export function distanceOf(scene: Scene): Distance {
  const frames = scene.plates.map((plate) => ({ plate, frame: plateFrame(plate) }));
  const { parts, ground } = scene;
  const distance = ((x: number, y: number, z: number): number => {
    let best = Infinity;
    let nearest = -1;
    let index = 0;
    for (const part of parts) {
      const d = partDistance(part, x, y, z);
      if (d < best) {
        best = d;
        nearest = index;
      }
      index += 1;
    }
    for (const { plate, frame } of frames) {
      const [u, v, n] = frame;
      const [px, py, pz] = [x - plate.centre[0], y - plate.centre[1], z - plate.centre[2]];
      const round = plate.kind === 'card' ? 3.2 : 0.2;
      const a = Math.abs(px * u[0] + py * u[1] + pz * u[2]) - plate.widthMm / 2 + round;
      const b = Math.abs(px * v[0] + py * v[1] + pz * v[2]) - plate.heightMm / 2 + round;
      const c = Math.abs(px * n[0] + py * n[1] + pz * n[2]) - PLATE_MM / 2;
      const flat = Math.hypot(Math.max(a, 0), Math.max(b, 0)) + Math.min(Math.max(a, b), 0) - round;
      const d = Math.hypot(Math.max(flat, 0), Math.max(c, 0)) + Math.min(Math.max(flat, c), 0);
      if (d < best) {
        best = d;
        nearest = index;
      }
      index += 1;
    }
    if (ground !== null) {
      const d = x * ground.normal[0] + y * ground.normal[1] + z * ground.normal[2] - ground.offset;
      if (d < best) {
        best = d;
        nearest = index;
      }
    }
    distance.nearest = nearest;
    return best;
  }) as Distance;
  distance.nearest = -1;
  return distance;
}
