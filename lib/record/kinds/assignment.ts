import { z } from 'zod';
import { defineKind } from '../kind.ts';

/** Who is to review an inspection, as a lead or a reviewer says; the newest word counts. It is no evidence. */
export const reviewAssigned = defineKind({
  kind: 'review assigned',
  v: 1,
  subject: 'inspection',
  role: 'review',
  body: z.strictObject({
    /** Account id of the reviewer; null: of nobody in particular. */
    to: z.string().min(1).max(64).nullable(),
    note: z.string().trim().max(500),
  }),
  line: (body, names) =>
    `${body.to === null ? 'Review given to nobody in particular' : `Review given to ${names.person(body.to)}`}${body.note === '' ? '' : `: ${body.note}`}`,
  upgrades: [],
});
