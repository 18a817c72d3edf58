import { z } from 'zod';
import { PointPx } from '../../marks/index.ts';
import { ZoneId } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';
import { PhotoHash } from './photo.ts';

const Side = z.strictObject({ photo: PhotoHash, widthPx: z.int().min(1), heightPx: z.int().min(1) });
const Shift = z.number().min(-20_000).max(20_000);

/** Shifts at the nodes of an even net over the first photo, row by row, px of the second photo; and which are known. */
const NetBody = z
  .strictObject({
    columns: z.int().min(2).max(64),
    rows: z.int().min(2).max(64),
    shiftsPx: z.array(z.tuple([Shift, Shift])).max(4096),
    known: z.array(z.boolean()).max(4096),
  })
  .refine(
    ({ columns, rows, shiftsPx, known }) =>
      shiftsPx.length === columns * rows && known.length === columns * rows,
    { message: 'A net has one shift and one word on whether it is known for each of its nodes' },
  );

/** A plane-to-plane map, row by row; not all 0. */
const NineNumbers = z
  .array(z.number().min(-1e9).max(1e9))
  .length(9)
  .refine((values) => values.some((value) => value !== 0), { message: 'A homography is not all 0' });

const Pair = z.strictObject({ from: PointPx, to: PointPx });

/**
 * Two photos of one place of a part, laid over each other. It is a fact about the part, which may have moved between wheels
 * and inspections. px of the upright originals, OpenCV's convention.
 */
export const photosAligned = defineKind({
  kind: 'photos aligned',
  v: 1,
  subject: 'component',
  role: 'note',
  body: z
    .strictObject({
      from: Side,
      to: Side,
      zone: ZoneId,
      method: z.enum(['rim surface', 'features', 'three points', 'four points']),
      homography: NineNumbers,
      net: NetBody.nullable(),
      /** The way back where it was found by itself; null: by turning round. */
      back: z.strictObject({ homography: NineNumbers, net: NetBody.nullable() }).nullable(),
      /** How far places that were left out are missed, px of the second photo; null where none was left over. */
      medianPx: z.number().nonnegative().max(100_000).nullable(),
      p95Px: z.number().nonnegative().max(100_000).nullable(),
      inliers: z.int().min(0).max(1_000_000),
      overlapShare: z.number().min(0).max(1),
      /** Picked by hand; empty where the program found them. */
      points: z.array(Pair).max(20),
    })
    .refine(({ from, to }) => from.photo !== to.photo, {
      message: 'A photo is not laid over itself',
      path: ['to', 'photo'],
    })
    .refine(({ method, points }) => method === 'features' || method === 'rim surface' || points.length >= 3, {
      message: 'By hand takes three pairs of points or more',
      path: ['points'],
    }),
  line: ({ from, to, zone, method, medianPx, points }) =>
    `Photos ${from.photo.slice(0, 8)} and ${to.photo.slice(0, 8)} of ${zone} laid over each other ${
      method === 'rim surface'
        ? 'by the rim that both show'
        : method === 'features'
          ? 'by what both show'
          : `by ${points.length} pairs of points picked by hand`
    }, ${medianPx === null ? 'error not known' : `half of the places within ${medianPx.toFixed(1)} px`}`,
  upgrades: [],
});
