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

/** Where millimetres on a photo come from. Points in px of the upright original. */
export const PhotoScale = z.discriminatedUnion('source', [
  z.strictObject({
    source: z.literal('known length'),
    ends: z.tuple([PointPx, PointPx]),
    lengthMm: z.number().positive().max(20_000),
    typed: z.string().min(1).max(60),
    what: z.string().trim().min(1).max(80),
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

export const scaleSet = defineKind({
  kind: 'scale set',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ photo: PhotoHash, scale: PhotoScale }),
  line: (body) =>
    body.scale.source === 'known length'
      ? `Scale set on photo ${body.photo.slice(0, 8)}: ${body.scale.what}, ${body.scale.typed}`
      : `Scale set on photo ${body.photo.slice(0, 8)}: ${body.scale.what}, ${body.scale.widthMm} × ${body.scale.heightMm} mm`,
  upgrades: [],
});
