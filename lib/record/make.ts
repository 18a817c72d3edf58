import type { z } from 'zod';
import type { Entry } from './entry.ts';
import type { Kind } from './kind.ts';

/** Who writes, where and when: given by the device. */
export interface EntryContext {
  readonly id: string;
  readonly site: string;
  readonly at: string;
  readonly author: string;
  readonly device: string;
}

/** An entry of `kind` about `subject`. The body is validated; throws when it does not fit: parse at the edge first. */
export function makeEntry<Body extends z.ZodType>(
  kind: Kind<Body>,
  subject: string,
  body: z.input<Body>,
  context: EntryContext,
): Entry {
  return {
    id: context.id,
    site: context.site,
    subject: { type: kind.subject, id: subject },
    kind: kind.kind,
    v: kind.v,
    at: context.at,
    author: context.author,
    device: context.device,
    body: kind.body.parse(body) as Record<string, unknown>,
  };
}
