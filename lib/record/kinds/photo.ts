import { z } from 'zod';
import { PointPx } from '../../marks/index.ts';
import { ClockPosition, ZoneId } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';

export const PhotoHash = z.string().regex(/^[0-9a-f]{64}$/);

export const photoAttached = defineKind({
  kind: 'photo attached',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    /** SHA-256 of the original bytes. */
    photo: PhotoHash,
    /** Name of the file as chosen; a label, never a path. */
    name: z.string().max(200),
    bytes: z.int().min(1),
    /** Size of the upright picture in px; null where the device could not decode it (the server will). */
    widthPx: z.int().min(1).nullable(),
    heightPx: z.int().min(1).nullable(),
    component: z.uuid(),
    zone: ZoneId,
    clock: ClockPosition.nullable(),
  }),
  line: (body, names) => `Photo of ${names.component(body.component)}, ${body.zone} attached (${body.name})`,
  upgrades: [],
});

export const photoWithdrawn = defineKind({
  kind: 'photo withdrawn',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ photo: PhotoHash, reason: z.string().trim().min(1).max(500) }),
  line: (body) => `Photo ${body.photo.slice(0, 8)} withdrawn from the evidence: ${body.reason}`,
  upgrades: [],
});

const Span = z.strictObject({
  ends: z.tuple([PointPx, PointPx]),
  lengthMm: z.number().positive().max(20_000),
  typed: z.string().min(1).max(60),
});

/** Where millimetres on a photo come from. Points in px of the upright original. */
export const PhotoScale = z.discriminatedUnion('source', [
  z.strictObject({
    source: z.literal('known length'),
    ends: z.tuple([PointPx, PointPx]),
    lengthMm: z.number().positive().max(20_000),
    typed: z.string().min(1).max(60),
    what: z.string().trim().min(1).max(80),
  }),
  /** Two lengths in one plane, best at right angles: the second tells how oblique the camera looked. */
  z.strictObject({
    source: z.literal('two known lengths'),
    spans: z.tuple([Span, Span]),
    what: z.string().trim().min(1).max(80),
  }),
  /** A printed card whose markers were found in the photo. */
  z.strictObject({
    source: z.literal('scale card'),
    layout: z.enum(['rim card', 'pocket card']),
    markers: z
      .array(
        z.strictObject({
          id: z.int().min(0).max(49),
          /** Clockwise from the top left of the marker as printed. */
          corners: z.tuple([PointPx, PointPx, PointPx, PointPx]),
        }),
      )
      .min(1)
      .max(8),
    /** What the check ruler of this print measures against its nominal length, mm; null: never measured. */
    ruler: z
      .strictObject({
        nominalMm: z.number().positive().max(1_000),
        measuredMm: z.number().positive().max(1_000),
      })
      .nullable(),
  }),
  z.strictObject({
    source: z.literal('rectangle'),
    /** In order round the rectangle; the first side is `widthMm` long, the second `heightMm`. */
    corners: z.tuple([PointPx, PointPx, PointPx, PointPx]),
    widthMm: z.number().positive().max(20_000),
    heightMm: z.number().positive().max(20_000),
    what: z.string().trim().min(1).max(80),
  }),
]);
export type PhotoScale = z.infer<typeof PhotoScale>;

/** Focal length and radial distortion fitted from several shots of a card, in px of the picture they were taken at. */
export const CameraProfile = z.strictObject({
  name: z.string().trim().min(1).max(80),
  widthPx: z.int().min(1).max(100_000),
  heightPx: z.int().min(1).max(100_000),
  focalPx: z.number().positive().max(1_000_000),
  centrePx: PointPx,
  k1: z.number().min(-2).max(2),
  k2: z.number().min(-5).max(5),
  /** Relative standard uncertainty of the focal length, and standard uncertainty of k1. */
  focalShareU: z.number().positive().max(1),
  k1U: z.number().positive().max(1),
});
export type CameraProfile = z.infer<typeof CameraProfile>;

/** What was known of the camera when the scale was set. */
export const PhotoCamera = z.strictObject({
  widthPx: z.int().min(1).max(100_000),
  heightPx: z.int().min(1).max(100_000),
  /** Focal length in terms of 35 mm film as the photo states it, mm. */
  focal35Mm: z.number().positive().max(5_000).nullable(),
  profile: CameraProfile.nullable(),
});
export type PhotoCamera = z.infer<typeof PhotoCamera>;

export const scaleSet = defineKind({
  kind: 'scale set',
  v: 2,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ photo: PhotoHash, scale: PhotoScale, camera: PhotoCamera.nullable() }),
  line: (body) => `Scale set on photo ${body.photo.slice(0, 8)}: ${scaleWords(body.scale)}`,
  upgrades: [(body) => ({ ...body, camera: null })],
});

/** Where the millimetres come from, in a few words. */
export function scaleWords(scale: PhotoScale): string {
  switch (scale.source) {
    case 'known length':
      return `${scale.what}, ${scale.typed}`;
    case 'two known lengths':
      return `${scale.what}, ${scale.spans[0].typed} and ${scale.spans[1].typed}`;
    case 'rectangle':
      return `${scale.what}, ${scale.widthMm} × ${scale.heightMm} mm`;
    case 'scale card':
      return `${scale.layout}, ${scale.markers.length} of its markers found`;
  }
}
