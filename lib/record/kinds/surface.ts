import { z } from 'zod';
import { defineKind } from '../kind.ts';
import { PhotoHash } from './photo.ts';

/** A straight stretch of a part’s section that the reference lies on: its middle, mm, as the section gives it. */
export const RestingPlace = z.strictObject({
  slot: z.string().min(1).max(60),
  /** Along the axle towards the gutter side, and radius. */
  axialMm: z.number().min(-5_000).max(5_000),
  radiusMm: z.number().positive().max(5_000),
});
export type RestingPlace = z.infer<typeof RestingPlace>;

/** The surface that the marks of a photo lie on, as seen from the reference (card, rectangle or tape). */
export const SurfaceChoice = z.discriminatedUnion('form', [
  /** Each mark lies on the surface of its own zone, at the radius that the size designation gives. */
  z.strictObject({
    form: z.literal('zone of the mark'),
    /** Where the reference lies; null: chosen from the zone of the mark. */
    restsOn: RestingPlace.nullable(),
    /** From the reference’s long side (or the tape) to the direction round the rim, degrees; null: along it. */
    turnDegrees: z.number().min(-180).max(180).nullable(),
    /** The side of the reference that points to the gutter side of the wheel; null: found from the marks. */
    gutterSide: z.enum(['top', 'bottom']).nullable(),
  }),
  /** The marks lie in a plane parallel to the reference. */
  z.strictObject({
    form: z.literal('plane'),
    /** In front of the reference’s plane (towards the camera) is positive. */
    offsetMm: z.number().min(-1_000).max(1_000),
    offsetUMm: z.number().min(0).max(1_000),
  }),
  /** A round surface that the reference lies on: outside of a cylinder, its axis across the reference’s long side. */
  z.strictObject({
    form: z.literal('cylinder'),
    radiusMm: z.number().min(10).max(5_000),
    turnDegrees: z.number().min(-180).max(180).nullable(),
  }),
  /** Nothing is known. The uncertainty grows accordingly. */
  z.strictObject({ form: z.literal('unknown') }),
]);
export type SurfaceChoice = z.infer<typeof SurfaceChoice>;

export const surfaceSet = defineKind({
  kind: 'surface set',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ photo: PhotoHash, surface: SurfaceChoice }),
  line: (body) => `Surface of the marks on photo ${body.photo.slice(0, 8)}: ${surfaceWords(body.surface)}`,
  upgrades: [],
});

/** The choice of surface in a few words. */
function surfaceWords(surface: SurfaceChoice): string {
  switch (surface.form) {
    case 'zone of the mark':
      return 'the zone of each mark, at the radius of the size';
    case 'plane':
      return surface.offsetMm === 0
        ? 'the plane of the reference'
        : `a plane ${Math.abs(surface.offsetMm)} mm ${surface.offsetMm > 0 ? 'before' : 'behind'} the reference`;
    case 'cylinder':
      return `a cylinder of radius ${surface.radiusMm} mm under the reference`;
    case 'unknown':
      return 'not known';
  }
}
