import { z } from 'zod';
import { EntryEnvelope } from '../../../lib/record/index.ts';
import { ROLES } from '../../../lib/store/server/index.ts';

export const Id = z.uuid().describe('Identifier');
export const PersonId = z.string().min(1).max(64).describe('Account id of a person');
export const SiteQuery = z.strictObject({ site: Id.describe('Site whose record is meant') });
export const RoleName = z.enum(ROLES);
export const Sha256 = z
  .string()
  .regex(/^[0-9a-f]{64}$/, 'A SHA-256 is written as 64 lower-case hexadecimal digits')
  .describe('SHA-256 of the original bytes');

/** A problem of one field, as in `lib/base`. */
export const FieldProblem = z.strictObject({
  code: z.string(),
  field: z.string(),
  value: z.string(),
  message: z.string(),
  wayOut: z.string(),
});

/** RFC 9457 problem document with the members of a `Problem`. */
export const ProblemDocument = z.object({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string(),
  code: z.string(),
  field: z.string(),
  value: z.string(),
  wayOut: z.string(),
  reference: z.string().optional().describe('Ask the operator with this reference'),
  offset: z.int().optional().describe('Place from which to send an upload on'),
});

export const SiteRoles = z.strictObject({
  id: z.string(),
  name: z.string(),
  roles: z.array(RoleName).readonly(),
});

export const Me = z.strictObject({
  person: z.strictObject({
    id: z.string(),
    name: z.string(),
    email: z.string(),
    administrator: z.boolean(),
  }),
  sites: z.array(SiteRoles).readonly(),
});

export const PersonShape = z.strictObject({
  id: z.string(),
  name: z.string(),
  email: z.string(),
  administrator: z.boolean(),
  disabled: z.boolean(),
  sites: z.array(SiteRoles).readonly(),
});

export const SiteShape = z.strictObject({ id: z.string(), name: z.string(), keepLocation: z.boolean() });

export const StoredEntryShape = z.strictObject({
  ...EntryEnvelope.shape,
  receivedAt: z.string(),
  seq: z.int(),
  previousHash: z.string(),
  hash: z.string(),
});

export const InspectionLineShape = z.strictObject({
  id: z.string(),
  site: z.string(),
  wheel: z.string(),
  tag: z.string(),
  status: z.string(),
  inspector: z.string(),
  inspectorName: z.string(),
  submittedAt: z.string().nullable(),
  waitingSince: z
    .string()
    .nullable()
    .describe('Since when it waits in its status; null until submitted and once reviewed'),
  provisional: z.boolean(),
  rank: z
    .int()
    .optional()
    .describe('Place in the queue, larger first; left out for people who may not know the results yet'),
  result: z.string().nullable().optional().describe('The worst result of its parts; left out likewise'),
  energyClass: z
    .int()
    .min(1)
    .max(4)
    .nullable()
    .describe('Energy in the air behind the rim, 1 small to 4 very large'),
  assignedTo: z.string().nullable().describe('Person the review was given to'),
  reviewer: z.string().nullable(),
  concludedAt: z.string().nullable(),
  entryCount: z.int(),
  body: z.record(z.string(), z.unknown()),
});

/** A line of the queue: with who looks at the inspection right now. */
export const QueueLineShape = z.strictObject({
  ...InspectionLineShape.shape,
  heldBy: z.string().nullable(),
  heldUntil: z.string().nullable(),
});

export const PhotoFactsShape = z.strictObject({
  sha256: z.string(),
  bytes: z.int(),
  name: z.string(),
  format: z.enum(['jpeg', 'png', 'webp', 'avif', 'heic']),
  width: z.int().describe('Upright width, pixels'),
  height: z.int().describe('Upright height, pixels'),
  capturedAt: z
    .string()
    .optional()
    .describe('ISO 8601; local time without a zone when the camera wrote none'),
  focalLengthMm: z.number().optional(),
  focalLength35Mm: z.number().optional(),
  locationPresent: z.boolean(),
});
