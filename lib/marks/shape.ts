import { z } from 'zod';
import { ClockPosition, ZoneId } from '../wheel/index.ts';

/**
 * Shapes drawn on a photo. Coordinates are pixels of the upright original: pixel centres at integers,
 * origin at the centre of the top-left pixel (OpenCV's convention). Millimetres are derived, never stored.
 */
const Coordinate = z.number().min(-100_000).max(100_000);
export const PointPx = z.tuple([Coordinate, Coordinate]);
export type PointPx = z.infer<typeof PointPx>;

/** Points of one line at most; a hand sets a few dozen. */
const POINTS_MAX = 1000;

/** A crack as it runs: the main trace first, then its branches, each starting on an earlier trace. */
const TraceShape = z.strictObject({
  form: z.literal('trace'),
  branches: z.array(z.array(PointPx).min(2).max(POINTS_MAX)).min(1).max(40),
});

/** A closed outline, not repeated at its end: corrosion, a worn area, a deformation. */
const PatchShape = z.strictObject({
  form: z.literal('patch'),
  outline: z.array(PointPx).min(3).max(POINTS_MAX),
});

/** A strip of even width along a line, such as the wear a ring leaves. */
const BandShape = z.strictObject({
  form: z.literal('band'),
  centreLine: z.array(PointPx).min(2).max(POINTS_MAX),
  widthPx: z.number().positive().max(100_000),
});

/** The distance between two points: a gap, a step, a length. */
const SpanShape = z.strictObject({ form: z.literal('span'), ends: z.tuple([PointPx, PointPx]) });

/** The angle between two lines that meet: the vertex where they do, and a point on each line away from it. */
const AngleShape = z.strictObject({
  form: z.literal('angle'),
  vertex: PointPx,
  arms: z.tuple([PointPx, PointPx]),
});

/** A single place worth a look. */
const SpotShape = z.strictObject({ form: z.literal('spot'), at: PointPx });

export const Shape = z.discriminatedUnion('form', [
  TraceShape,
  PatchShape,
  BandShape,
  SpanShape,
  AngleShape,
  SpotShape,
]);
export type Shape = z.infer<typeof Shape>;
export type ShapeForm = Shape['form'];

/** What a mark says is there. A span, an angle or a spot may carry `null`: a measure or a pointer, no defect. */
export const DefectKind = z.enum(['crack', 'corrosion', 'pitting', 'wear', 'bent', 'broken', 'other']);
export type DefectKind = z.infer<typeof DefectKind>;

/** How the thing was found. Only the record of a test closes a test that the limits ask for. */
export const FindMethod = z.enum(['visual', 'magnetic particle', 'penetrant', 'ultrasonic']);
export type FindMethod = z.infer<typeof FindMethod>;

/** A mark as drawn. `mark` names it through later redrawings; `photo` is the SHA-256 of the original's bytes. */
export const Mark = z.strictObject({
  mark: z.uuid(),
  photo: z.string().regex(/^[0-9a-f]{64}$/),
  shape: Shape,
  defect: DefectKind.nullable(),
  component: z.uuid(),
  zone: ZoneId,
  clock: ClockPosition.nullable(),
  method: FindMethod,
  note: z.string().max(2000),
});
export type Mark = z.infer<typeof Mark>;
