import { z } from 'zod';
import { defineKind } from '../kind.ts';

/** A person's own call. `hold` says that the evidence is not enough. */
export const Call = z.enum(['keep', 'repair', 'scrap', 'hold']);
export type Call = z.infer<typeof Call>;

export const callMade = defineKind({
  kind: 'call made',
  v: 1,
  subject: 'inspection',
  role: 'call',
  body: z.strictObject({ component: z.uuid(), call: Call, reason: z.string().trim().max(2000) }),
  line: (body, names) =>
    `Called ${names.component(body.component)}: ${body.call}${body.reason === '' ? '' : `, ${body.reason}`}`,
  upgrades: [],
});

export const inspectionSubmitted = defineKind({
  kind: 'inspection submitted',
  v: 1,
  subject: 'inspection',
  role: 'submission',
  body: z.strictObject({
    /** Ids of all entries of this inspection that the submission rests on. */
    covers: z.array(z.uuid()).min(1).max(20_000),
    /** The verdict as shown when it was signed, complete with its inputs. Its shape belongs to the engine named in it. */
    verdict: z.record(z.string(), z.unknown()),
  }),
  line: (body) => `Submitted, resting on ${body.covers.length} entries`,
  upgrades: [],
});

export const reviewConcluded = defineKind({
  kind: 'review concluded',
  v: 1,
  subject: 'inspection',
  role: 'review',
  body: z
    .strictObject({
      /** Id of the submission entry that was reviewed. */
      submission: z.uuid(),
      outcome: z.enum(['agreed', 'sent back', 'overruled']),
      /** Needed for sending back and overruling. */
      reason: z.string().trim().max(4000),
      /** The reviewer's own call for every component. */
      calls: z
        .array(z.strictObject({ component: z.uuid(), call: Call, reason: z.string().trim().max(2000) }))
        .max(40),
    })
    .refine((body) => body.outcome === 'agreed' || body.reason !== '', {
      path: ['reason'],
      error: 'Sending back and overruling need a reason',
    }),
  line: (body) => `Review: ${body.outcome}${body.reason === '' ? '' : `, ${body.reason}`}`,
  upgrades: [],
});
