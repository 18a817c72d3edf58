import { z } from 'zod';
import { DefectKind, FindMethod } from '../marks/index.ts';
import { AssemblyPointId, GateQuestionId } from '../record/index.ts';
import { CharacteristicId, ClockPosition, ConstructionId, RingState, ZoneId } from '../wheel/index.ts';

/** A size with its standard uncertainty, mm or mm². */
export const Sized = z.strictObject({ value: z.number().nonnegative(), u: z.number().nonnegative() });
export type Sized = z.infer<typeof Sized>;

export const ReadingEvidence = z.strictObject({
  /** Id of the reading in the record, or a name within a file. */
  id: z.string().min(1).max(80),
  characteristic: CharacteristicId,
  zone: ZoneId,
  clock: ClockPosition.nullable(),
  state: RingState.nullable(),
  valueMm: z.number(),
  /** Standard uncertainty of this single reading, mm. */
  uMm: z.number().nonnegative(),
  method: z.enum(['gauge', 'photo']),
  typed: z.string().max(60),
  instrument: z
    .strictObject({ name: z.string().max(80), calibrationDue: z.iso.date().nullable(), expired: z.boolean() })
    .nullable(),
});
export type ReadingEvidence = z.infer<typeof ReadingEvidence>;

export const DefectEvidence = z.strictObject({
  id: z.string().min(1).max(80),
  defect: DefectKind,
  zone: ZoneId,
  clock: ClockPosition.nullable(),
  method: FindMethod,
  note: z.string().max(2000),
  /** Length along a crack in mm; null: not measured. */
  lengthMm: Sized.nullable(),
  /** Area of a patch in mm²; null: not measured. */
  areaMm2: Sized.nullable(),
});
export type DefectEvidence = z.infer<typeof DefectEvidence>;

export const TestEvidence = z.strictObject({
  id: z.string().min(1).max(80),
  method: FindMethod.exclude(['visual']),
  zones: z.array(ZoneId).min(1),
  result: z.enum(['no indication', 'indication']),
  on: z.iso.date(),
  standard: z.string().max(120),
  /** Hours on duty of the part when it was tested; left out or null: not known. */
  dutyHours: z.number().nonnegative().nullable().optional(),
});
export type TestEvidence = z.infer<typeof TestEvidence>;

/** All that is known of the part in one slot. */
export const PartEvidence = z.strictObject({
  slot: z.string().min(1).max(60),
  /** Null: nobody has said which component this is. */
  component: z.string().min(1).max(80).nullable(),
  maker: z.string().max(80),
  series: z.string().max(80),
  stamp: z.string().max(80),
  /** First and last day on which it may have been made; left out or null: nobody knows. */
  made: z.strictObject({ from: z.iso.date(), to: z.iso.date() }).nullable().optional(),
  /** Hours on duty, with u; left out or null: not known. */
  dutyHours: Sized.nullable().optional(),
  /** How many components are said to be in the slot; more than one has to be cleared up. */
  claims: z.int().min(0),
  /** The inspector looked for it and it was not there. */
  absent: z.boolean(),
  looks: z.array(
    z.strictObject({
      zone: ZoneId,
      result: z.enum(['nothing seen', 'defect recorded', 'could not be seen']),
    }),
  ),
  photos: z.array(z.strictObject({ id: z.string().min(1).max(80), zone: ZoneId })),
  readings: z.array(ReadingEvidence),
  defects: z.array(DefectEvidence),
  tests: z.array(TestEvidence),
});
export type PartEvidence = z.infer<typeof PartEvidence>;

/** Everything the engine reads, as plain JSON: stored with the verdict so that it can be replayed. */
export const Evidence = z.strictObject({
  /** The moment the verdict is for, ISO 8601 UTC. */
  decidedAt: z.iso.datetime({ precision: 3 }),
  wheel: z.strictObject({
    tag: z.string().max(20),
    designation: z.string().max(60),
    construction: ConstructionId,
    maker: z.string().max(80),
    series: z.string().max(80),
    dual: z.boolean(),
  }),
  /** Gate questions without a yes; empty means hands-on work was open. */
  gateOpen: z.array(GateQuestionId),
  /** One for each slot of the construction, in its order. */
  parts: z.array(PartEvidence),
  /** Findings, photos and looks of this inspection about components that are in no slot of the wheel. */
  elsewhere: z.array(z.strictObject({ component: z.string().min(1).max(80), what: z.string().max(40) })),
  assembly: z.array(z.strictObject({ point: AssemblyPointId, answer: z.enum(['yes', 'no']) })),
  /** Tables that the site names and of which no edition counts at that moment; left out when there are none. */
  tablesWithout: z.array(z.string().min(1).max(80)).optional(),
  /** Entries that this version could not read: while there are any, nothing can be kept. */
  unreadable: z.int().min(0),
});
export type Evidence = z.infer<typeof Evidence>;
