import { z } from 'zod';
import { DefectKind, FindMethod, Mark } from '../../marks/index.ts';
import { ClockPosition, ZoneId } from '../../wheel/index.ts';
import { defineKind, type Names } from '../kind.ts';

function where(body: { component: string; zone: string; clock: number | null }, names: Names): string {
  const clock = body.clock === null ? '' : `, ${body.clock} o'clock`;
  return `${names.component(body.component)}, ${body.zone}${clock}`;
}

/** Version 2 knows angles beside the older forms; what was drawn before them stays as it is. */
const asItWas = (body: Record<string, unknown>) => body;

export const markDrawn = defineKind({
  kind: 'mark drawn',
  v: 2,
  subject: 'inspection',
  role: 'evidence',
  body: Mark,
  line: (body, names) => `Marked ${body.defect ?? 'a measure'} at ${where(body, names)} (${body.method})`,
  upgrades: [asItWas],
});

export const markRedrawn = defineKind({
  kind: 'mark redrawn',
  v: 2,
  subject: 'inspection',
  role: 'evidence',
  body: Mark,
  line: (body, names) => `Changed the mark ${body.defect ?? 'measure'} at ${where(body, names)}`,
  upgrades: [asItWas],
});

export const markWithdrawn = defineKind({
  kind: 'mark withdrawn',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ mark: z.uuid(), reason: z.string().trim().max(500) }),
  line: (body) => `Withdrew a mark${body.reason === '' ? '' : `: ${body.reason}`}`,
  upgrades: [],
});

/** A defect seen where there is no photo of it. */
export const defectNoted = defineKind({
  kind: 'defect noted',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    defectId: z.uuid(),
    component: z.uuid(),
    zone: ZoneId,
    clock: ClockPosition.nullable(),
    defect: DefectKind,
    method: FindMethod,
    note: z.string().trim().max(2000),
  }),
  line: (body, names) => `Noted ${body.defect} at ${where(body, names)} (${body.method})`,
  upgrades: [],
});

export const defectWithdrawn = defineKind({
  kind: 'defect withdrawn',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ defectId: z.uuid(), reason: z.string().trim().min(1).max(500) }),
  line: (body) => `Withdrew a noted defect: ${body.reason}`,
  upgrades: [],
});
