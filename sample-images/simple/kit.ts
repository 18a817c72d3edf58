import type { Camera } from './camera.ts';
import { randomFrom, unit, type Vec } from './noise.ts';
import type { Development } from './picture.ts';
import { type Corner, fieldOf, outlineOf } from './profile.ts';
import { type Finish, type Part, type Place, type Plate, pointOf, type Scene, settled } from './scene.ts';

/** A place on the outside of a part. */
export type Ends = readonly [a: number, arc: number];

/** Paints, linear light. */
export const GREY: Vec = [0.21, 0.225, 0.23];
export const OXIDE: Vec = [0.25, 0.075, 0.045];
export const CREAM: Vec = [0.42, 0.38, 0.3];
export const GREEN: Vec = [0.055, 0.12, 0.085];

/** A finish of middling wear; what the shot is about overrides. */
export function finish(over: Partial<Finish>): Finish {
  return { paint: GREY, worn: 0.5, rust: 0.5, dust: 0.3, polished: [], ...over };
}

/** A part turned from an outline. */
export function part(corners: readonly Corner[], radiusMm: number, over: Partial<Part> = {}): Part {
  return {
    field: fieldOf(outlineOf(corners)),
    radiusMm,
    halfGapMm: null,
    bites: [],
    finish: finish({}),
    cracks: [],
    patches: [],
    ...over,
  };
}

/** A line on a part's surface that wanders as cracks do; axial place and arc of both ends. */
function wandering(on: Part, from: Ends, to: Ends, swing: number, seed: number): Place[] {
  const random = randomFrom(seed);
  const steps = 18;
  let drift = 0;
  return Array.from({ length: steps + 1 }, (_, i): Place => {
    const t = i / steps;
    drift = drift * 0.6 + (random() - 0.5) * swing;
    const k = drift * Math.sin(Math.PI * t);
    return settled(on, from[0] + (to[0] - from[0]) * t + k, from[1] + (to[1] - from[1]) * t);
  });
}

/** A part with a crack between two places. */
export function cracked(on: Part, from: Ends, to: Ends, seed: number, widthMm = 0.75, swing = 2.2): Part {
  return { ...on, cracks: [{ widthMm, branches: [wandering(on, from, to, swing, seed)] }] };
}

/** A part with an irregular rust patch round a place. */
export function rusted(on: Part, [a, arc]: Ends, sizeA: number, sizeArc: number, seed: number): Part {
  const random = randomFrom(seed);
  const outline = Array.from({ length: 18 }, (_, i): Place => {
    const angle = (i / 18) * 2 * Math.PI;
    const k = 0.72 + random() * 0.42;
    return settled(on, a + Math.cos(angle) * sizeA * 0.5 * k, arc + Math.sin(angle) * sizeArc * 0.5 * k);
  });
  return { ...on, patches: [{ outline }] };
}

/** A card lying on a part's outside at a place; `reachMm`: how far to both sides the surface's slope is taken. */
export function plateOn(on: Part, [a, arc]: Ends, over: Partial<Plate>, reachMm = 20): Plate {
  const [, , r] = settled(on, a, arc);
  const rise = settled(on, a + reachMm, arc)[2] - settled(on, a - reachMm, arc)[2];
  const slope = rise / (2 * reachMm);
  const tilt = arc / on.radiusMm;
  const normal: Vec = unit([-slope, Math.sin(tilt), Math.cos(tilt)]);
  const widthMm = 85.6;
  return {
    kind: 'card',
    centre: pointOf(on, [a, arc, r + 1]),
    along: [0.12, -1, 0],
    normal,
    widthMm,
    heightMm: 53.98,
    ...over,
  };
}

/** How most pictures are developed. */
export const FILM: Development = { exposure: 0.47, noise: 6, blurPx: 0.7, vignette: 0.34 };

/** A telephone held over the part. */
export function camera(eye: Vec, at: Vec, over: Partial<Camera> = {}): Camera {
  return { eye, at, up: [0, 0, 1], focal35Mm: 28, widthPx: 2000, heightPx: 1500, ...over };
}

/** A scene in the yard under the sun. */
export function scene(parts: readonly Part[], seed: number, over: Partial<Scene> = {}): Scene {
  // The rim stands on the yard: its lowest point is a diameter below the place looked at.
  const ground = { normal: [0, 0, 1], offset: -1330 } as const;
  return { parts, plates: [], ground, sun: unit([-0.55, 0.45, 0.75]), up: [0, 0, 1], seed, ...over };
}
