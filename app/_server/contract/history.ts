import { z } from 'zod';
import { InspectionMeasured, Visit } from '../../../lib/history/index.ts';
import { operation } from './operation.ts';
import { Id } from './shapes.ts';

const query = z.strictObject({
  site: Id,
  after: z.string().max(36).default('').describe('Inspection after which to read'),
  limit: z.coerce.number().int().min(1).max(500).default(200),
});
const next = z.string().nullable().describe('Give this as after to read on; null at the end');

/** Operations about wear in time and about where things happen. */
export const historyOperations = {
  readWear: operation({
    id: 'readWear',
    method: 'GET',
    path: '/api/v1/wear',
    access: 'person',
    summary:
      'The governing value of every quantity that submitted inspections measured, page by page, for members of the site',
    query,
    answer: z.strictObject({
      inspections: z.array(InspectionMeasured),
      next,
      withheld: z
        .int()
        .describe('Inspections left out because the caller has yet to measure them as a reviewer'),
    }),
    problems: [404],
  }),
  readWhere: operation({
    id: 'readWhere',
    method: 'GET',
    path: '/api/v1/where',
    access: 'person',
    summary:
      'What concluded inspections found by zone and clock position, with where the wheel stood then, page by page, for members of the site',
    query,
    answer: z.strictObject({
      visits: z.array(Visit.extend({ machine: z.string(), position: z.string() })),
      next,
    }),
    problems: [404],
  }),
};
