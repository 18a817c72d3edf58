import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';

const folder = join(import.meta.dirname, '..', '..', 'sample-images', 'simple');

const Px = z.tuple([z.number(), z.number()]);

/** A picture with its truth, as sample-images/simple/render.ts writes it. */
export const Picture = z.object({
  file: z.string(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int().min(1),
  widthPx: z.int(),
  heightPx: z.int(),
  component: z.string(),
  zone: z.string(),
  cracks: z.array(z.object({ branches: z.array(z.array(Px).min(2)), lengthMm: z.number() })),
  patches: z.array(z.object({ outline: z.array(Px).min(3), areaMm2: z.number() })),
  scale: z
    .discriminatedUnion('source', [
      z.object({
        source: z.literal('rectangle'),
        what: z.string(),
        corners: z.tuple([Px, Px, Px, Px]),
        widthMm: z.number(),
        heightMm: z.number(),
      }),
      z.object({
        source: z.literal('known length'),
        what: z.string(),
        ends: z.tuple([Px, Px]),
        lengthMm: z.number(),
      }),
    ])
    .nullable(),
});
export type Picture = z.infer<typeof Picture>;

/** The pictures that come with the program, by file name. */
export function demoPictures(): ReadonlyMap<string, Picture> {
  const truth: unknown = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8'));
  return new Map(
    z
      .array(Picture)
      .parse(truth)
      .map((picture) => [picture.file, picture]),
  );
}

/** The bytes of a picture. */
export function pictureBytes(picture: Picture): Buffer {
  return readFileSync(join(folder, picture.file));
}
