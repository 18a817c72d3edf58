import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { must } from '../../lib/base/index.ts';
import { PointPx } from '../../lib/marks/index.ts';
import { ConstructionId, ZoneId } from '../../lib/wheel/index.ts';

const folder = join(import.meta.dirname, '..', '..', 'sample-images', 'pictures');

const Line = z.array(PointPx).min(2);

/** Where the millimetres of a picture come from, as it was rendered. */
const TrueScale = z.discriminatedUnion('source', [
  z.object({
    source: z.literal('scale card'),
    layout: z.enum(['rim card', 'pocket card']),
    cardCorners: z.tuple([PointPx, PointPx, PointPx, PointPx]),
    markers: z.array(
      z.object({ id: z.int(), corners: z.tuple([PointPx, PointPx, PointPx, PointPx]), visible: z.boolean() }),
    ),
  }),
  z.object({
    source: z.literal('steel tape'),
    ends: z.tuple([PointPx, PointPx]),
    lengthMm: z.number().positive(),
  }),
]);

/**
 * Something that is truly there. A crack has branches, an area has outlines where it can be outlined; what is broken
 * out may have none. `visibleShare` is what of it the camera sees.
 */
const TrueDefect = z.object({
  kind: z.enum(['crack', 'corrosion', 'pitting', 'wear', 'broken', 'galling', 'nick']),
  branches: z.array(z.object({ px: Line })).default([]),
  outlines: z.array(z.array(PointPx).min(3)).default([]),
  visibleShare: z.number().min(0).max(1),
  /** Of a crack, all branches. */
  lengthMm: z.number().nonnegative().optional(),
  depthMm: z.number().nonnegative().optional(),
  /** Distance from the plane of the scale card, mm, negative behind it; null without a card. */
  outOfPlaneMm: z.object({ mean: z.number() }).nullable(),
});
export type TrueDefect = z.infer<typeof TrueDefect>;

/** A rendered picture with its truth; points in px of the upright picture. Fields that nothing here uses are passed over. */
export const Picture = z.object({
  file: z.string().regex(/^[a-z0-9-]+\.jpg$/),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int().min(1),
  widthPx: z.int().min(1),
  heightPx: z.int().min(1),
  focal35Mm: z.number().positive(),
  shows: z.string().min(1),
  wheel: z.string(),
  designation: z.string(),
  construction: ConstructionId,
  slot: z.string(),
  zone: ZoneId,
  clock: z.number().min(0.5).max(12),
  daysAgo: z.number().nullable(),
  camera: z.object({ distanceMm: z.number().positive() }),
  scale: TrueScale.nullable(),
  defects: z.array(TrueDefect),
  /** What could be taken for a defect; with its line where it has one. */
  lookAlikes: z.array(z.object({ kind: z.string(), px: Line.optional() })),
  gapMm: z.number().nullable(),
  wearMm: z.number().nullable(),
});
export type Picture = z.infer<typeof Picture>;

/** The name that the plan of the rounds knows a picture by. */
export function nameOf(picture: Pick<Picture, 'file'>): string {
  return picture.file.replace(/\.jpg$/, '');
}

/** The pictures that come with the program, by name. */
export function demoPictures(): ReadonlyMap<string, Picture> {
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.json'))
    .sort();
  const pictures = files.map((file) => {
    const parsed = Picture.safeParse(JSON.parse(readFileSync(join(folder, file), 'utf8')));
    if (!parsed.success) throw new Error(`The truth in ${file} is not understood: ${parsed.error.message}`);
    return parsed.data;
  });
  return new Map(pictures.map((picture) => [nameOf(picture), picture]));
}

/** The picture of this name. */
export function pictureNamed(pictures: ReadonlyMap<string, Picture>, name: string): Picture {
  return must(pictures.get(name), `picture ${name}`);
}

/** The bytes of a picture. */
export function pictureBytes(picture: Pick<Picture, 'file'>): Buffer {
  return readFileSync(join(folder, picture.file));
}
