import { z } from 'zod';
import { CallPair, ReadingPair } from '../../../lib/review/index.ts';
import { operation } from './operation.ts';
import { Id } from './shapes.ts';

const PAIRS_MAX = 5000;

/** Operations about how well people agree. */
export const agreementOperations = {
  readAgreement: operation({
    id: 'readAgreement',
    method: 'GET',
    path: '/api/v1/agreement',
    access: 'person',
    summary:
      'Readings and calls made by two people, of concluded inspections, the last concluded first; for leads and reviewers of the site',
    query: z.strictObject({
      site: Id,
      from: z.iso.date().optional().describe('First day of conclusion, UTC'),
      to: z.iso.date().optional().describe('Last day of conclusion, UTC'),
      limit: z.coerce.number().int().min(1).max(PAIRS_MAX).default(PAIRS_MAX),
    }),
    answer: z.strictObject({
      readings: z.array(ReadingPair),
      calls: z.array(CallPair),
      suggestions: z
        .strictObject({ offered: z.int().min(0), accepted: z.int().min(0) })
        .describe('Suggestions of a model put before people; none are made yet'),
      more: z.boolean().describe('Whether pairs beyond the limit are left out: ask for a shorter period'),
    }),
    problems: [403, 404],
  }),
};
