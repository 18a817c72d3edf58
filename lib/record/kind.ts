import type { z } from 'zod';
import type { SubjectType } from './entry.ts';

/** Looks up names for ids, for lines that a person reads. */
export interface Names {
  person(id: string): string;
  component(id: string): string;
  wheel(id: string): string;
  instrument(id: string): string;
}

/**
 * The part a kind plays: what may be appended by whom, and what counts as evidence of a submission. An `act` is done
 * with the wheel after the verdict; the verdict does not rest on it. `second` is what a reviewer measures, `answer` what
 * an inspector says to a question.
 */
export type EntryRole =
  | 'evidence'
  | 'call'
  | 'act'
  | 'submission'
  | 'review'
  | 'second'
  | 'answer'
  | 'register'
  | 'table draft'
  | 'table approval'
  | 'study'
  | 'study reading'
  | 'note';

/** One kind of entry: its schema, its line in the audit view and its upgrades from older versions. */
export interface Kind<Body extends z.ZodType = z.ZodType> {
  readonly kind: string;
  /** Current version of the body's schema, from 1. */
  readonly v: number;
  readonly subject: SubjectType;
  readonly role: EntryRole;
  readonly body: Body;
  /** One line in plain language, without time and person. */
  line(body: z.infer<Body>, names: Names): string;
  /** `upgrades[n - 1]` turns a body of version n into one of version n + 1; there is one for each version below `v`. */
  readonly upgrades: readonly ((body: Record<string, unknown>) => Record<string, unknown>)[];
}

/** Gives a kind its type; throws when the upgrades have a gap. */
export function defineKind<Body extends z.ZodType>(kind: Kind<Body>): Kind<Body> {
  if (kind.upgrades.length !== kind.v - 1) {
    throw new Error(`Broken invariant: kind ${kind.kind} v${kind.v} has ${kind.upgrades.length} upgrades`);
  }
  return kind;
}
