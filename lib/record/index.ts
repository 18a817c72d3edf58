export { type Entry, EntryEnvelope, type StoredEntry, SubjectType } from './entry.ts';
