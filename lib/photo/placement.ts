import type { Axle } from './lathe.ts';
import type { Ledge } from './profile.ts';
import type { Frame, Reference, View } from './reference.ts';
import type { Surface } from './surface.ts';
import { add, cross, rotated, scaled, type Vec3 } from './vector.ts';

/** One thing that is not known about where a surface lies: its name in the budget, and its standard uncertainty. */
export interface Unknown {
  readonly name: string;
  readonly u: number;
}

/** A surface whose place depends on the reference and on unknowns, all 0 at their best values. */
export interface Placing {
  /** What the surface is, in words, for the screen and for the budget. */
  readonly what: string;
  readonly unknowns: readonly Unknown[];
  /** Unknowns left out are 0. */
  surfaceOf(view: View, unknowns: readonly number[]): Surface;
  /** Where the rim’s axle stands with all unknowns at their best values; null for flat surfaces. */
  axleOf(view: View): Axle | null;
  /** The ledge the reference was taken to lie on; null for flat surfaces. */
  readonly ledge: Ledge | null;
  /** Area of the whole zone, all round the rim, mm²; null where the surface is no zone. */
  readonly zoneAreaMm2: number | null;
  /** Other surfaces that may be meant, with how likely each is; the rest of one is this one. */
  readonly alternatives: readonly { readonly weight: number; readonly placing: Placing }[];
}

/** Camera and reference, and the surface under it, with every unknown at its best value. */
export function atBest(reference: Reference, placing: Placing): { view: View; surface: Surface } {
  const view = reference.viewOf(reference.estimate.values);
  return { view, surface: placing.surfaceOf(view, []) };
}

/** All figures below are standard uncertainties of our own choice until trials on real rims replace them. */
export const U = {
  /** The reference lies above the metal by its thickness and by what it bridges, mm. */
  restMm: 0.9,
  /** A card laid flat follows the metal within this, rad (about one degree). */
  restTurn: 0.02,
  /** From the reference’s long side to the direction round the rim, rad (about seven degrees). */
  turn: 0.12,
  /** Radius that a size designation gives: rolled sections, relative. */
  radiusShare: 0.005,
  /** The step in radius from the ledge to the zone: our sections are schematic; relative, and at least, mm. */
  stepShare: 0.06,
  stepMm: 0.5,
  /** Where along the ledge the reference lies, beside the play that its length leaves, mm. */
  slideMm: 2,
  /** A mark of which nothing is known but that it is near the reference: distance from its plane, mm, and tilt, rad. */
  unknownOffsetMm: 15,
  unknownTilt: 0.15,
  /** A mark said to lie in the reference’s plane, mm, and rad. */
  planeOffsetMm: 0.7,
  planeTilt: 0.02,
} as const;
/** A printed card lies above the metal by its own thickness and by what it rests on: paint, rust, beads of a weld; mm. */
export const REST_MM = 1.5;

export const OFFSET = 'how far the mark lies before or behind the reference';
export const TILT = 'tilt of the surface against the reference';
export const RADIUS = 'radius of the surface';
export const PLACE = 'where the reference lies on the part';
export const value = (list: readonly number[], i: number): number => list[i] ?? 0;

/** Turns the frame of a reference: round its normal by `turn`, then leaning by small angles about its axes. */
export function leaning(
  frame: Frame,
  turn: number,
  lean: readonly [number, number],
): { round: Vec3; across: Vec3; normal: Vec3 } {
  const small = add(scaled(frame.x, lean[0]), scaled(frame.y, lean[1]));
  const round = rotated(rotated(frame.x, scaled(frame.normal, turn)), small);
  const normal = rotated(frame.normal, small);
  return { round, across: cross(normal, round), normal };
}
