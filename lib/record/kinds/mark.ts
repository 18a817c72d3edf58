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

/** How the photo shows the neighbourhood of a mark, taken from its pixels; judged when a size is asked for. */
export const FiguresNear = z.strictObject({
  /** Blur of the sharpest edges, standard deviation in px; null where there are too few edges to tell. */
  edgeBlurPx: z.number().min(0).max(1_000).nullable(),
  /** Shares of pixels at full white and at full black. */
  highlightShare: z.number().min(0).max(1),
  shadowShare: z.number().min(0).max(1),
  /** Mean value, 0 to 255. */
  brightness: z.number().min(0).max(255),
});
export type FiguresNear = z.infer<typeof FiguresNear>;

/** Taken by the program after a mark was drawn or moved; a later change of its shape makes it void. */
export const markLookedAt = defineKind({
  kind: 'mark looked at',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ mark: z.uuid(), near: FiguresNear }),
  line: ({ near }) => {
    const blur =
      near.edgeBlurPx === null ? 'focus not told' : `edges blurred by ${near.edgeBlurPx.toFixed(1)} px`;
    return `How the photo shows a mark: ${blur}, ${(near.highlightShare * 100).toFixed(0)} % glare, ${(near.shadowShare * 100).toFixed(0)} % black`;
  },
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
