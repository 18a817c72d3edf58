import { z } from 'zod';
import { type Problem, problem, problemsFromIssues } from '../../lib/base/index.ts';
import { Shape } from '../../lib/marks/index.ts';
import { SURFACE_BY_ZONE } from '../../lib/photo/index.ts';
import { CameraProfile, PhotoScale, SurfaceChoice } from '../../lib/record/index.ts';
import { ConstructionId, parseDesignation, ZoneId } from '../../lib/wheel/index.ts';
import { BadInput, readJson } from './input.ts';

/** A file of marks: what is to be measured on one photo, and what is known of the wheel. Pixels of the upright photo. */
const MarksFile = z.strictObject({
  /** Without it zones have no radius, and the surface of a mark is not known. */
  wheel: z.strictObject({ designation: z.string().min(1).max(60), construction: ConstructionId }).optional(),
  /** Where no card is in the photo, or instead of it. */
  scale: PhotoScale.optional(),
  surface: SurfaceChoice.optional(),
  /** A fitted camera; without it the focal length that the photo states is used. */
  camera: CameraProfile.optional(),
  marks: z
    .array(
      z.strictObject({
        name: z.string().min(1).max(80),
        slot: z.string().min(1).max(60).nullable().default(null),
        zone: ZoneId,
        shape: Shape,
      }),
    )
    .min(1),
});
export type MarksFile = z.infer<typeof MarksFile>;

/** What is known of the print of the card. */
const CardFile = z.strictObject({
  ruler: z.strictObject({ nominalMm: z.number().positive(), measuredMm: z.number().positive() }),
});

function checked<T extends z.ZodType>(schema: T, path: string, field: string, wayOut: string): z.infer<T> {
  const candidate = readJson(path, field);
  const read = schema.safeParse(candidate);
  if (read.success) return read.data;
  throw new BadInput(problemsFromIssues('file-content', candidate, read.error.issues, wayOut, path));
}

export function readMarks(path: string): MarksFile {
  const file = checked(MarksFile, path, '--marks', 'Correct the file; DEVELOPERS.md shows what it holds.');
  if (file.wheel !== undefined) {
    const size = parseDesignation(file.wheel.designation);
    if (!size.ok) throw new BadInput([{ ...size.error, field: `${path}: wheel.designation` }]);
  }
  return file;
}

export function readCard(path: string): z.infer<typeof CardFile> {
  return checked(CardFile, path, '--card', 'Give {"ruler": {"nominalMm": 40, "measuredMm": 39.8}}.');
}

const SURFACES =
  'zone, plane, plane:-12 (mm before the reference, behind with a minus), cylinder:600 (radius, mm), unknown';

/** The surface named on the command line, or in a JSON file. */
export function readSurface(text: string): SurfaceChoice {
  const [form = '', size] = text.split(':');
  const number = Number(size);
  if (form === 'zone' && size === undefined) return SURFACE_BY_ZONE;
  if (form === 'unknown' && size === undefined) return { form: 'unknown' };
  if (form === 'plane' && (size === undefined || Number.isFinite(number))) {
    return {
      form: 'plane',
      offsetMm: size === undefined ? 0 : number,
      offsetUMm: size === undefined ? 0 : 1,
    };
  }
  if (form === 'cylinder' && number > 0) return { form: 'cylinder', radiusMm: number, turnDegrees: null };
  if (text.endsWith('.json'))
    return checked(SurfaceChoice, text, '--surface', `Give a surface such as ${SURFACES}.`);
  throw new BadInput([wrongSurface(text)]);
}

function wrongSurface(text: string): Problem {
  return problem(
    'arguments',
    '--surface',
    text,
    'No such surface',
    `Give one of: ${SURFACES}; or a JSON file.`,
  );
}
