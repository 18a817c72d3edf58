import { z } from 'zod';
import { Call } from '../../../lib/record/index.ts';
import { operation } from './operation.ts';
import { Id, PersonId, QueueLineShape, SiteQuery } from './shapes.ts';

const WHEELS_MAX = 400;
const DAYS_MAX = 40_000;

const WheelList = z
  .string()
  .transform((text) => text.split(','))
  .pipe(z.array(Id).min(1).max(WHEELS_MAX));

/** Operations about who reviews what next. */
export const queueOperations = {
  readQueue: operation({
    id: 'readQueue',
    method: 'GET',
    path: '/api/v1/queue',
    access: 'person',
    summary:
      'Inspections of a site, the most dangerous first, then the longest waiting; for its members. Filters narrow it together',
    query: z.strictObject({
      site: Id,
      status: z.string().min(1).max(40).optional(),
      assigned: z
        .union([z.enum(['anyone', 'me', 'nobody']), PersonId])
        .default('anyone')
        .describe('anyone, me, nobody, or the person the review was given to'),
      wheels: WheelList.optional().describe('Ids of wheels, separated by commas'),
      energy: z.coerce
        .number()
        .int()
        .min(1)
        .max(4)
        .optional()
        .describe('Energy class, 1 small to 4 very large'),
      result: Call.optional().describe(
        'The worst result of the parts; refused for reviewers, who look first',
      ),
      waitingDays: z.coerce
        .number()
        .int()
        .min(0)
        .max(DAYS_MAX)
        .optional()
        .describe('Waiting at least so long'),
      cursor: z.string().max(120).optional().describe('As given with the page before'),
      limit: z.coerce.number().int().min(1).max(200).default(50),
    }),
    answer: z.strictObject({
      inspections: z.array(QueueLineShape).readonly(),
      cursor: z.string().nullable(),
    }),
    problems: [400, 403, 404],
  }),
  holdReview: operation({
    id: 'holdReview',
    method: 'POST',
    path: '/api/v1/inspections/{id}/hold',
    access: 'person',
    summary:
      'Takes, renews or gives back the hold of an inspection, for reviewers of the site; it ends by itself after ten minutes',
    params: z.strictObject({ id: Id }),
    query: SiteQuery,
    body: z.strictObject({ want: z.enum(['take', 'release']) }),
    answer: z.strictObject({
      holder: z.strictObject({ id: z.string(), name: z.string() }).nullable(),
      until: z.string().nullable(),
      mine: z.boolean(),
    }),
    problems: [403, 404, 409],
  }),
};
