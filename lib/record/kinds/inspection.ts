import { z } from 'zod';
import { ComponentKind, ZoneId } from '../../wheel/index.ts';
import { AssemblyPointId } from '../assembly.ts';
import { GateQuestionId } from '../gate.ts';
import { InflationStageId } from '../inflation.ts';
import { defineKind } from '../kind.ts';

export const inspectionOpened = defineKind({
  kind: 'inspection opened',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({ wheel: z.uuid(), reason: z.string().trim().min(1).max(200) }),
  line: (body, names) => `Inspection of ${names.wheel(body.wheel)} opened: ${body.reason}`,
  upgrades: [],
});

export const gateAnswered = defineKind({
  kind: 'gate answered',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    question: GateQuestionId,
    answer: z.enum(['yes', 'no']),
    /** Who did it, where the question asks for that. */
    by: z.string().trim().max(120),
    /** When it was done, as the person says. */
    doneAt: z.iso.datetime({ precision: 3 }).nullable(),
  }),
  line: (body) => `Safety gate, ${body.question}: ${body.answer}${body.by === '' ? '' : `, by ${body.by}`}`,
  upgrades: [],
});

export const zoneLookedAt = defineKind({
  kind: 'zone looked at',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    component: z.uuid(),
    zone: ZoneId,
    /** `nothing seen` is what the eye says; it never closes a test that the limits ask for. */
    result: z.enum(['nothing seen', 'defect recorded', 'could not be seen']),
    note: z.string().trim().max(1000),
  }),
  line: (body, names) => `${names.component(body.component)}, ${body.zone}: ${body.result}`,
  upgrades: [],
});

/** The inspector found other parts fitted than the book says, or one that the book does not know. */
export const partNotFound = defineKind({
  kind: 'part not found',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    slot: z.string().min(1).max(60),
    componentKind: ComponentKind,
    note: z.string().trim().max(1000),
  }),
  line: (body) => `No ${body.slot} was found${body.note === '' ? '' : `: ${body.note}`}`,
  upgrades: [],
});

export const noteWritten = defineKind({
  kind: 'note written',
  v: 1,
  subject: 'inspection',
  role: 'note',
  body: z.strictObject({ text: z.string().trim().min(1).max(4000) }),
  line: (body) => `Note: ${body.text}`,
  upgrades: [],
});

export const assemblyPointAnswered = defineKind({
  kind: 'assembly point answered',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    point: AssemblyPointId,
    answer: z.enum(['yes', 'no']),
    note: z.string().trim().max(500),
  }),
  line: (body) => `Assembly, ${body.point}: ${body.answer}`,
  upgrades: [],
});

/** A stage of inflation was gone through; `kpa` is what the gauge showed at its end, where it is read. */
export const inflationStageDone = defineKind({
  kind: 'inflation stage done',
  v: 1,
  subject: 'inspection',
  role: 'act',
  body: z.strictObject({
    stage: InflationStageId,
    typed: z.string().max(60),
    kpa: z.number().nonnegative().nullable(),
  }),
  line: (body) => `Inflation, ${body.stage}: done${body.typed === '' ? '' : `, ${body.typed}`}`,
  upgrades: [],
});

/** The air was let out again; the stages begin anew. */
export const inflationBrokenOff = defineKind({
  kind: 'inflation broken off',
  v: 1,
  subject: 'inspection',
  role: 'act',
  body: z.strictObject({ reason: z.string().trim().min(1).max(500) }),
  line: (body) => `Inflation broken off, air let out: ${body.reason}`,
  upgrades: [],
});

export const pressureRead = defineKind({
  kind: 'pressure read',
  v: 1,
  subject: 'inspection',
  role: 'evidence',
  body: z.strictObject({
    typed: z.string().min(1).max(60),
    foundKpa: z.number().nonnegative(),
    recommendedTyped: z.string().min(1).max(60),
    recommendedKpa: z.number().positive(),
  }),
  line: (body) => `Pressure found ${body.typed}, recommended ${body.recommendedTyped}`,
  upgrades: [],
});
