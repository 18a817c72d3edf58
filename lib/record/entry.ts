import { z } from 'zod';

/** What an entry is about. All entries with one subject form one hash chain on the server. */
export const SubjectType = z.enum([
  'site',
  'wheel',
  'component',
  'instrument',
  'inspection',
  'table',
  'study',
]);
export type SubjectType = z.infer<typeof SubjectType>;

/**
 * The envelope every entry shares. Entries are only ever appended; a correction is a new entry.
 * `body` is validated by the schema of (`kind`, `v`); an unknown kind or newer version is kept and passed on as it is.
 */
export const EntryEnvelope = z.strictObject({
  /** UUIDv7 made on the device. */
  id: z.uuid({ version: 'v7' }),
  /** The site whose members may see it. */
  site: z.uuid(),
  subject: z.strictObject({ type: SubjectType, id: z.uuid() }),
  kind: z.string().min(1).max(60),
  /** Version of the kind's schema, from 1. */
  v: z.int().min(1),
  /** Device clock, ISO 8601 in UTC with milliseconds. */
  at: z.iso.datetime({ precision: 3 }),
  /** Account id of the person. */
  author: z.string().min(1).max(64),
  /** Id of the device, made once per browser. */
  device: z.string().min(1).max(64),
  body: z.record(z.string(), z.unknown()),
});
export type Entry = z.infer<typeof EntryEnvelope>;

/** An entry as the server keeps it: its place in the order of arrival and in the chain of its subject. */
export interface StoredEntry extends Entry {
  /** Server clock at arrival, ISO 8601 UTC. */
  readonly receivedAt: string;
  /** Place in the order of arrival over the whole server, from 1. */
  readonly seq: number;
  /** Hash of the entry before it in the same subject, or 64 zeros. */
  readonly previousHash: string;
  /** SHA-256 over `previousHash`, `receivedAt` and the canonical JSON of the entry. */
  readonly hash: string;
}
