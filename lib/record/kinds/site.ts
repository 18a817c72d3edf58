import { z } from 'zod';
import { defineKind } from '../kind.ts';

export const siteDescribed = defineKind({
  kind: 'site described',
  v: 1,
  subject: 'site',
  role: 'register',
  body: z.strictObject({
    name: z.string().trim().min(1).max(80),
    /** Ids of tolerance tables and rule sets in force, most entitled first. */
    tables: z.array(z.string().min(1).max(80)).max(50),
    /** Whether derived pictures keep the place where a photo was taken. */
    keepLocation: z.boolean(),
    /** True for invented data; shown on every screen. */
    demonstration: z.boolean(),
  }),
  line: (body) =>
    `Site described as ${body.name}; in force: ${body.tables.length === 0 ? 'no tables' : body.tables.join(', ')}`,
  upgrades: [],
});
