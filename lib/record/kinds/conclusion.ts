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

/** A reviewer's call on a component. */
export const ReviewCall = z.strictObject({
  component: z.uuid(),
  call: Call,
  reason: z.string().trim().max(2000),
  /** The limit that an overruling call rests on: table and row, or a document and its page. */
  limit: z.string().trim().max(400),
});
export type ReviewCall = z.infer<typeof ReviewCall>;

/**
 * Version 2: calls cite a limit, the signature says how it was given, and a disagreement may be handed on to a third
 * person. Signatures before that were given by being signed in.
 */
export const reviewConcluded = defineKind({
  kind: 'review concluded',
  v: 2,
  subject: 'inspection',
  role: 'review',
  body: z
    .strictObject({
      /** Id of the submission entry that was reviewed. */
      submission: z.uuid(),
      outcome: z.enum(['agreed', 'sent back', 'overruled', 'handed on']),
      /** Needed for everything but agreeing. */
      reason: z.string().trim().max(4000),
      /** The reviewer's own call for every component. */
      calls: z.array(ReviewCall).max(40),
      signed: z.enum(['signed in', 'password entered again']),
    })
    .refine((body) => body.outcome === 'agreed' || body.reason !== '', {
      path: ['reason'],
      error: 'Sending back, overruling and handing on need a reason',
    }),
  line: (body, names) =>
    [
      `Review: ${OUTCOME_WORDS[body.outcome]}${body.reason === '' ? '' : `, ${body.reason}`}`,
      ...body.calls.map(
        ({ component, call, reason, limit }) =>
          `${names.component(component)} ${call}${reason === '' ? '' : `, ${reason}`}${limit === '' ? '' : ` (limit: ${limit})`}`,
      ),
    ].join('; '),
  upgrades: [
    (body) => ({
      ...body,
      signed: 'signed in',
      calls: (body.calls as readonly Record<string, unknown>[]).map((call) => ({ ...call, limit: '' })),
    }),
  ],
});

const OUTCOME_WORDS = {
  agreed: 'agreed',
  'sent back': 'sent back',
  overruled: 'overruled',
  'handed on': 'handed on to a third person',
} as const;
