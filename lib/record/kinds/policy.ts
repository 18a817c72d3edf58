import { z } from 'zod';
import { defineKind } from '../kind.ts';

/** How often a site wants its wheels inspected, whichever comes first; both null: it asks for no interval. */
export const inspectionPolicySet = defineKind({
  kind: 'inspection policy set',
  v: 1,
  subject: 'site',
  role: 'register',
  body: z.strictObject({
    everyMonths: z.int().min(1).max(240).nullable(),
    everyHours: z.number().positive().max(1_000_000).nullable(),
  }),
  line: ({ everyMonths, everyHours }) => {
    const every = [
      ...(everyMonths === null ? [] : [`${everyMonths} months`]),
      ...(everyHours === null ? [] : [`${everyHours} h on duty`]),
    ];
    return every.length === 0
      ? 'No interval between inspections asked for'
      : `Inspections asked for every ${every.join(' or ')}`;
  },
  upgrades: [],
});
