import { z } from 'zod';
import { fail, ok, type Problem, problem, problemsFromIssues, type Result, valueAt } from '../base/index.ts';
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
    return fail([
      ...problemsFromIssues('inspection-file', candidate, parsed.error.issues, WAY_OUT),
      ...problemsInTheRest(candidate),
    ]);
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

/** What can be told of the parts that can be read by themselves, though the file as a whole cannot. */
function problemsInTheRest(candidate: unknown): Problem[] {
  const construction = ConstructionId.safeParse(valueAt(candidate, ['wheel', 'construction']));
  const instruments = listAt(candidate, 'instruments');
  const names = instruments.map((one) => valueAt(one, ['name'])).filter((name) => typeof name === 'string');
  const problems: Problem[] = [];
  const seen = new Set<string>();
  listAt(candidate, 'parts').forEach((one, index) => {
    const slot = valueAt(one, ['slot']);
    if (typeof slot === 'string' && construction.success)
      problems.push(...slotProblem(slot, index, construction.data, seen));
    listAt(one, 'readings').forEach((candidateReading, r) => {
      const reading = FileReading.safeParse(candidateReading);
      if (reading.success)
        problems.push(...readingProblems(reading.data, `parts.${index}.readings.${r}`, names));
    });
  });
  return problems;
}

function listAt(value: unknown, name: string): readonly unknown[] {
  const list = valueAt(value, [name]);
  return Array.isArray(list) ? list : [];
}

function slotProblems(file: InspectionFile): Problem[] {
  const seen = new Set<string>();
  return file.parts.flatMap(({ slot }, index) => slotProblem(slot, index, file.wheel.construction, seen));
}

/** What is wrong with the slot of a part; `seen` are those of the parts before. */
function slotProblem(
  slot: string,
  index: number,
  construction: ConstructionId,
  seen: Set<string>,
): Problem[] {
  const known = constructionOf(construction).slots.map((one) => one.slot);
  const doubled = seen.has(slot);
  seen.add(slot);
  const field = `parts.${index}.slot`;
  if (doubled) return [problem('part-doubled', field, slot, 'This slot stands in the file twice', WAY_OUT)];
  if (known.includes(slot)) return [];
  const message = `A ${construction} rim has no such slot; it has ${known.join(', ')}`;
  return [problem('part-slot', field, slot, message, WAY_OUT)];
}

/** What is wrong with a reading of which every field has its form. */
function readingProblems(
  { characteristic, value, overlap, instrument }: z.infer<typeof FileReading>,
  path: string,
  instruments: readonly string[],
): Problem[] {
  const read = readTyped(characteristic, value, 'mm', overlap);
  if (!read.ok) return [{ ...read.error, field: `${path}.value` }];
  if (instrument === null || instruments.includes(instrument)) return [];
  const message = 'No instrument of this name stands in the file';
  return [problem('reading-instrument', `${path}.instrument`, instrument, message, WAY_OUT)];
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
  const wrong = readingProblems(
    reading,
    path,
    file.instruments.map((one) => one.name),
  );
  problems.push(...wrong);
  const read = readTyped(reading.characteristic, reading.value, 'mm', reading.overlap);
  if (wrong.length > 0 || !read.ok) return null;
  const instrument = file.instruments.find((one) => one.name === reading.instrument);
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
