import { z } from 'zod';
import { defineKind } from '../kind.ts';

/** SHA-256 of the canonical JSON of a table's content. */
const ContentHash = z.string().regex(/^[0-9a-f]{64}$/);

/**
 * A tolerance table as it was written or brought in, whole. One subject is one edition. The content is checked where
 * tables are known (`lib/tolerances`); here it is kept as it came.
 */
export const tableDrafted = defineKind({
  kind: 'table drafted',
  v: 1,
  subject: 'table',
  role: 'table draft',
  body: z.strictObject({
    content: z.record(z.string(), z.unknown()),
    /** Hash of the draft it was made from, so that nobody's changes are overwritten unseen; null for the first. */
    base: ContentHash.nullable(),
    /** What was changed and why, for whoever approves. */
    note: z.string().trim().max(500),
  }),
  line: ({ content, note }) =>
    `Draft of table ${String(content.table)}, edition ${String(content.edition)}, written${note === '' ? '' : `: ${note}`}`,
  upgrades: [],
});

/** A second person's word that the draft with this content may be used. From then on it never changes. */
export const tableApproved = defineKind({
  kind: 'table approved',
  v: 1,
  subject: 'table',
  role: 'table approval',
  body: z.strictObject({
    /** Hash of the content approved. */
    hash: ContentHash,
    note: z.string().trim().max(500),
  }),
  line: ({ hash, note }) =>
    `Table with content ${hash.slice(0, 12)}… approved${note === '' ? '' : `: ${note}`}`,
  upgrades: [],
});

/** The edition is out of use from this moment; a draft is dropped. It stays on file. */
export const tableWithdrawn = defineKind({
  kind: 'table withdrawn',
  v: 1,
  subject: 'table',
  role: 'table draft',
  body: z.strictObject({ reason: z.string().trim().min(1).max(500) }),
  line: ({ reason }) => `Table withdrawn: ${reason}`,
  upgrades: [],
});
