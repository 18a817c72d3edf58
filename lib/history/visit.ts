import { z } from 'zod';
import { DefectKind } from '../marks/index.ts';
import type { InspectionState } from '../record/index.ts';
import { Evidence } from '../rules/index.ts';
import { ConstructionId, ZoneId } from '../wheel/index.ts';

/** What is counted: a defect as it was recorded, or a size beyond its keep limit. */
export const FindKind = z.enum([...DefectKind.options, 'beyond a limit']);
export type FindKind = z.infer<typeof FindKind>;

/** Something that was found on a part. */
export const Find = z.strictObject({
  slot: z.string(),
  zone: ZoneId,
  /** Clock position, 12 at the valve; null: nobody said. */
  clock: z.number().nullable(),
  what: FindKind,
});
export type Find = z.infer<typeof Find>;

/** A part that was looked at. */
export const VisitedPart = z.strictObject({
  slot: z.string(),
  component: z.string(),
  maker: z.string(),
  /** Zones that were seen. */
  zones: z.array(ZoneId).readonly(),
});

/** A concluded inspection as far as it tells where things happen. */
export const Visit = z.strictObject({
  inspection: z.string(),
  wheel: z.string(),
  construction: ConstructionId,
  /** When it was submitted, ISO 8601. */
  at: z.string(),
  parts: z.array(VisitedPart).readonly(),
  finds: z.array(Find).readonly(),
});
export type Visit = z.infer<typeof Visit>;

/** What of a stored finding says where a size was beyond its limit. */
const Beyond = z.object({
  about: z.literal('limit'),
  characteristic: z.string(),
  state: z.string().nullable(),
  zone: ZoneId,
  class: z.enum(['repair', 'scrap']),
  governing: z.object({ clock: z.number().nullable() }),
});
const StoredPart = z.object({
  slot: z.string(),
  component: z.string().nullable(),
  findings: z.array(z.unknown()),
});

function beyondLimits(parts: unknown): Find[] {
  const stored = z.array(StoredPart).safeParse(parts);
  if (!stored.success) return [];
  const finds = new Map<string, Find>();
  for (const { slot, component, findings } of stored.data) {
    if (component === null) continue;
    for (const finding of findings) {
      const read = Beyond.safeParse(finding);
      if (!read.success) continue;
      const { characteristic, state, zone, governing } = read.data;
      // Several rows that speak of one quantity are one find.
      const key = [slot, characteristic, state, zone].join('|');
      if (!finds.has(key)) finds.set(key, { slot, zone, clock: governing.clock, what: 'beyond a limit' });
    }
  }
  return [...finds.values()];
}

/**
 * Where things were found at a concluded inspection: every defect in the evidence its verdict rests on, at the clock
 * position of its mark, and every size of class repair or scrap at its governing place. Null before the conclusion,
 * while late evidence keeps it open, and where this version cannot read that evidence.
 */
export function visitOf(state: InspectionState): Visit | null {
  const { submission, wheel } = state;
  if (state.status !== 'concluded' || submission === null || wheel === null) return null;
  const { verdict } = submission.value;
  const evidence = Evidence.safeParse(verdict.inputs);
  if (!evidence.success) return null;
  const known = evidence.data.parts.filter((part) => part.component !== null);
  return {
    inspection: state.id,
    wheel,
    construction: evidence.data.wheel.construction,
    at: submission.at,
    parts: known.map(({ slot, component, maker, looks }) => ({
      slot,
      component: component ?? '',
      maker,
      zones: looks.filter(({ result }) => result !== 'could not be seen').map(({ zone }) => zone),
    })),
    finds: [
      ...known.flatMap(({ slot, defects }) =>
        defects.map(({ zone, clock, defect }): Find => ({ slot, zone, clock, what: defect })),
      ),
      ...beyondLimits(verdict.parts),
    ],
  };
}
