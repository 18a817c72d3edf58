import { z } from 'zod';
import { SubjectType } from '../../../lib/record/index.ts';
import { Withheld } from '../../../lib/review/index.ts';
import { operation } from './operation.ts';
import { FieldProblem, Id, InspectionLineShape, SiteQuery, StoredEntryShape } from './shapes.ts';

const Entries = z.array(StoredEntryShape).readonly();
const LIMIT_MAX = 1000;
const BATCH_BYTES_MAX = 8_000_000;
const BATCH_ENTRIES_MAX = 500;

const Outcome = z.discriminatedUnion('status', [
  z.strictObject({ id: z.string(), status: z.literal('stored'), seq: z.int(), receivedAt: z.string() }),
  z.strictObject({
    id: z.string(),
    status: z.literal('already stored'),
    seq: z.int(),
    receivedAt: z.string(),
  }),
  z.strictObject({ id: z.string(), status: z.literal('refused'), problem: FieldProblem }),
]);

const ChainHead = z.strictObject({ entries: z.int(), hash: z.string() });

const SubjectList = z
  .string()
  .transform((text) => text.split(','))
  .pipe(z.array(SubjectType).min(1));

/** Operations about entries and what is derived from them. */
export const recordOperations = {
  appendEntries: operation({
    id: 'appendEntries',
    method: 'POST',
    path: '/api/v1/entries',
    access: 'person',
    summary:
      'Appends entries (see EntryEnvelope); each has its own outcome, and sending one twice is harmless. The whole batch is on the disk before the reply',
    body: z.strictObject({ entries: z.array(z.unknown()).min(1).max(BATCH_ENTRIES_MAX) }),
    bodyBytesMax: BATCH_BYTES_MAX,
    answer: z.strictObject({ results: z.array(Outcome) }),
  }),
  sign: operation({
    id: 'sign',
    method: 'POST',
    path: '/api/v1/signatures',
    access: 'person',
    summary:
      'Appends one entry that is a signature (a review), with the password of the person entered again for it',
    body: z.strictObject({ password: z.string().min(1).max(256), entry: z.unknown() }),
    answer: z.strictObject({ result: Outcome }),
    problems: [403, 429],
  }),
  readLog: operation({
    id: 'readLog',
    method: 'GET',
    path: '/api/v1/entries',
    access: 'person',
    summary:
      'Entries of a site in order of arrival, for its members; a page ends after about 4 MB, then more is true. Readings of others in an open gauge study are left out',
    query: z.strictObject({
      site: Id,
      after: z.coerce.number().int().min(0).default(0).describe('Place in the log after which to read'),
      limit: z.coerce.number().int().min(1).max(LIMIT_MAX).default(500),
      subjects: SubjectList.optional().describe('Types of subject, separated by commas'),
    }),
    answer: z.strictObject({
      entries: Entries,
      next: z.int(),
      more: z.boolean(),
      withheld: z
        .array(z.uuid())
        .readonly()
        .describe('Inspections of which entries are kept from the caller for now'),
    }),
    problems: [404],
  }),
  readSubject: operation({
    id: 'readSubject',
    method: 'GET',
    path: '/api/v1/subjects/{type}/{id}/entries',
    access: 'person',
    summary:
      'Entries of one subject in order of arrival, for members of the site; of an open gauge study without what others have read',
    params: z.strictObject({ type: SubjectType, id: Id }),
    query: SiteQuery,
    answer: z.strictObject({
      entries: Entries,
      withheld: Withheld.nullable().describe('What stands for entries that are kept from the caller for now'),
      head: ChainHead.describe('Entries of the subject and the hash of the last, to check the chain against'),
    }),
    problems: [404],
  }),
  readBook: operation({
    id: 'readBook',
    method: 'GET',
    path: '/api/v1/wheels/{id}/book',
    access: 'person',
    summary: 'A wheel with its components and inspections, for members of the site',
    params: z.strictObject({ id: Id }),
    query: SiteQuery,
    answer: z.strictObject({
      wheel: z.string(),
      entries: Entries,
      components: z.array(z.strictObject({ id: z.string(), entries: Entries })).readonly(),
      inspections: z
        .array(
          z.strictObject({
            id: z.string(),
            line: InspectionLineShape.nullable(),
            entries: Entries,
            withheld: Withheld.nullable(),
          }),
        )
        .readonly(),
      more: z.boolean().describe('Whether the entries of the oldest inspections are left out'),
    }),
    problems: [404],
  }),
  readEvidence: operation({
    id: 'readEvidence',
    method: 'GET',
    path: '/api/v1/evidence',
    access: 'person',
    summary:
      'What the last submission of every wheel rested on, wheel by wheel, for members of the site; a page ends after about 4 MB',
    query: z.strictObject({
      site: Id,
      after: z.string().max(36).default('').describe('Wheel after which to read'),
      limit: z.coerce.number().int().min(1).max(200).default(100),
    }),
    answer: z.strictObject({
      wheels: z
        .array(
          z.strictObject({
            wheel: z.string(),
            inspection: z.string(),
            submittedAt: z.string(),
            evidence: z.record(z.string(), z.unknown()).describe('See Evidence in lib/rules'),
          }),
        )
        .readonly(),
      next: z.string().nullable().describe('Give this as after to read on; null at the end'),
      withheld: z.int().describe('Wheels left out because the caller has yet to measure them as a reviewer'),
    }),
    problems: [404],
  }),
};
