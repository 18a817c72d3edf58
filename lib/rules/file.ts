import { z } from 'zod';
import { fail, ok, type Problem, problem, problemsFromIssues, type Result } from '../base/index.ts';
import { DefectKind, FindMethod } from '../marks/index.ts';
import { Instrument, readTyped, typedStepMm } from '../readings/index.ts';
import { AssemblyPointId, type GateAnswer, GateQuestionId, gateState, MadeOn } from '../record/index.ts';
import {
  CharacteristicId,
  ClockPosition,
  ConstructionId,
  constructionOf,
  RingState,
  ZoneId,
} from '../wheel/index.ts';
import type { Evidence, PartEvidence, ReadingEvidence } from './evidence.ts';
import { Sized } from './evidence.ts';
import { madeBetween } from './gather.ts';
import { instrumentFacts } from './gauge.ts';

const FileReading = z.strictObject({
  characteristic: CharacteristicId,
  zone: ZoneId,
  clock: ClockPosition.nullable().default(null),
  state: RingState.nullable().default(null),
  /** As a person types it: "4.5", "4,5 mm", "1 3/16 in". Without a unit: mm. */
  value: z.string(),
  overlap: z.boolean().default(false),
  /** Name of one of the instruments of the file, or null. */
  instrument: z.string().nullable().default(null),
});

const FilePart = z.strictObject({
  slot: z.string(),
  maker: z.string().default(''),
  series: z.string().default(''),
  stamp: z.string().default(''),
  /** Year, month or day of making as stamped ("2019", "2019-07"); null: nobody knows. */
  madeOn: MadeOn.nullable().default(null),
  /** Hours on duty with their standard uncertainty; null: not known. */
  dutyHours: Sized.nullable().default(null),
  absent: z.boolean().default(false),
  looks: z
    .array(
      z.strictObject({
        zone: ZoneId,
        result: z.enum(['nothing seen', 'defect recorded', 'could not be seen']),
      }),
    )
    .default([]),
  photos: z.array(z.strictObject({ id: z.string().min(1), zone: ZoneId })).default([]),
  readings: z.array(FileReading).default([]),
  defects: z
    .array(
      z.strictObject({
        defect: DefectKind,
        zone: ZoneId,
        clock: ClockPosition.nullable().default(null),
        method: FindMethod.default('visual'),
        note: z.string().default(''),
        lengthMm: Sized.nullable().default(null),
        areaMm2: Sized.nullable().default(null),
      }),
    )
    .default([]),
  tests: z
    .array(
      z.strictObject({
        method: FindMethod.exclude(['visual']),
        zones: z.array(ZoneId).min(1),
        result: z.enum(['no indication', 'indication']),
        on: z.iso.date(),
        standard: z.string().default(''),
        dutyHours: z.number().nonnegative().nullable().default(null),
      }),
    )
    .default([]),
});

/** The inspection file that the command line reads. Documented in the README. */
export const InspectionFile = z.strictObject({
  format: z.literal('rimbook inspection'),
  version: z.literal(1),
  decidedAt: z.iso.datetime({ precision: 3 }),
  wheel: z.strictObject({
    tag: z.string().default(''),
    designation: z.string(),
    construction: ConstructionId,
    maker: z.string().default(''),
    series: z.string().default(''),
    dual: z.boolean().default(false),
  }),
  /** Answers of the safety gate; a question left out counts as no. */
  gate: z.partialRecord(GateQuestionId, z.enum(['yes', 'no'])).default({}),
  assembly: z.partialRecord(AssemblyPointId, z.enum(['yes', 'no'])).default({}),
  instruments: z.array(Instrument).default([]),
  parts: z.array(FilePart),
  /** Ids of bundled tables to apply when none is given on the command line. */
  tables: z.array(z.string()).default([]),
});
export type InspectionFile = z.infer<typeof InspectionFile>;

const WAY_OUT = 'Correct this field; the README describes the inspection file.';

/** Reads an inspection file. All errors at once, each with its field; nothing is guessed. */
export function readInspectionFile(
  candidate: unknown,
): Result<
  { evidence: Evidence; tables: readonly string[]; instruments: readonly Instrument[] },
  readonly Problem[]
> {
  const parsed = InspectionFile.safeParse(candidate);
  if (!parsed.success) {
    return fail(problemsFromIssues('inspection-file', candidate, parsed.error.issues, WAY_OUT));
  }
  const file = parsed.data;
  const problems: Problem[] = [...slotProblems(file)];
  const parts = file.parts.map((part, index) => partOf(part, index, file, problems));
  if (problems.length > 0) return fail(problems);
  const answers = new Map<GateQuestionId, GateAnswer>(
    Object.entries(file.gate) as [GateQuestionId, GateAnswer][],
  );
  return ok({
    tables: file.tables,
    instruments: file.instruments,
    evidence: {
      decidedAt: file.decidedAt,
      wheel: file.wheel,
      gateOpen: [...gateState(answers, file.wheel.dual).open],
      parts,
      assembly: (Object.entries(file.assembly) as [AssemblyPointId, 'yes' | 'no'][]).map(
        ([point, answer]) => ({ point, answer }),
      ),
      elsewhere: [],
      unreadable: 0,
    },
  });
}

function slotProblems(file: InspectionFile): Problem[] {
  const known = constructionOf(file.wheel.construction).slots.map((slot) => slot.slot);
  const seen = new Set<string>();
  return file.parts.flatMap(({ slot }, index) => {
    const doubled = seen.has(slot);
    seen.add(slot);
    if (doubled)
      return [
        problem('part-doubled', `parts.${index}.slot`, slot, 'This slot stands in the file twice', WAY_OUT),
      ];
    if (known.includes(slot)) return [];
    const message = `A ${file.wheel.construction} rim has no such slot; it has ${known.join(', ')}`;
    return [problem('part-slot', `parts.${index}.slot`, slot, message, WAY_OUT)];
  });
}

function partOf(
  part: z.infer<typeof FilePart>,
  index: number,
  file: InspectionFile,
  problems: Problem[],
): PartEvidence {
  const readings = part.readings.map((reading, r) =>
    readingOf(reading, `parts.${index}.readings.${r}`, file, problems),
  );
  return {
    slot: part.slot,
    component: part.absent ? null : part.slot,
    maker: part.maker,
    series: part.series,
    stamp: part.stamp,
    made: madeBetween(part.madeOn),
    dutyHours: part.dutyHours,
    claims: part.absent ? 0 : 1,
    absent: part.absent,
    looks: part.looks,
    photos: part.photos,
    readings: readings.filter((reading) => reading !== null),
    defects: part.defects.map((defect, d) => ({ id: `${part.slot} defect ${d + 1}`, ...defect })),
    tests: part.tests.map((test, t) => ({ id: `${part.slot} test ${t + 1}`, ...test })),
  };
}

function readingOf(
  reading: z.infer<typeof FileReading>,
  path: string,
  file: InspectionFile,
  problems: Problem[],
): ReadingEvidence | null {
  const read = readTyped(reading.characteristic, reading.value, 'mm', reading.overlap);
  if (!read.ok) {
    problems.push({ ...read.error, field: `${path}.value` });
    return null;
  }
  const instrument = file.instruments.find((one) => one.name === reading.instrument);
  if (reading.instrument !== null && instrument === undefined) {
    problems.push(
      problem(
        'reading-instrument',
        `${path}.instrument`,
        reading.instrument,
        'No instrument of this name stands in the file',
        WAY_OUT,
      ),
    );
    return null;
  }
  const { characteristic, zone, clock, state } = reading;
  return {
    id: path,
    characteristic,
    zone,
    clock,
    state,
    valueMm: read.value.valueMm,
    ...instrumentFacts(instrument, file.decidedAt, typedStepMm(reading.value, 'mm')),
    method: 'gauge',
    typed: reading.value,
  };
}
