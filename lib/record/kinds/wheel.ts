import { z } from 'zod';
import { ConstructionId } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';

export const wheelDescribed = defineKind({
  kind: 'wheel described',
  v: 1,
  subject: 'wheel',
  role: 'register',
  body: z.strictObject({
    tag: z.string().regex(/^[0-9A-Z]{3}-[0-9A-Z]{3}$/),
    /** As stamped; kept as text even where it is not understood. */
    designation: z.string().trim().min(1).max(60),
    construction: ConstructionId,
    maker: z.string().trim().max(80),
    series: z.string().trim().max(80),
    machine: z.string().trim().max(80),
    position: z.string().trim().max(80),
    /** True when it is one of a dual pair: both tyres count before hands-on work. */
    dual: z.boolean(),
  }),
  line: (body) =>
    `Wheel ${body.tag} described: ${body.designation}, ${body.construction}, ${body.machine} ${body.position}`.trimEnd(),
  upgrades: [],
});
