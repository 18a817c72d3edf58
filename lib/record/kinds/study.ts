import { z } from 'zod';
import { CharacteristicId, RingState } from '../../wheel/index.ts';
import { defineKind } from '../kind.ts';

const Unit = z.enum(['mm', 'cm', 'm', 'in']);
const Typed = z.string().trim().min(1).max(60);

function allDiffer(values: readonly string[]): boolean {
  return new Set(values.map((one) => one.trim().toLowerCase())).size === values.length;
}

/** What a gauge study measures, on which parts, by whom and how often. */
export const StudyPlan = z.strictObject({
  name: z.string().trim().min(1).max(120),
  characteristic: CharacteristicId,
  /** State of the ring, where the characteristic has states. */
  state: RingState.nullable(),
  instrument: z.uuid(),
  /** Parts as the study knows them; the label is written on the part. */
  parts: z
    .array(z.strictObject({ part: z.uuid(), label: z.string().trim().min(1).max(40) }))
    .min(2)
    .max(30)
    .refine((parts) => allDiffer(parts.map((one) => one.part)) && allDiffer(parts.map((one) => one.label)), {
      error: 'Every part needs a label of its own',
    }),
  /** Account ids of those who measure. */
  people: z
    .array(z.string().min(1).max(64))
    .min(2)
    .max(10)
    .refine(allDiffer, { error: 'A person is named once' }),
  trials: z.int().min(2).max(5),
  /** Width of the tolerance, from its lower to its upper limit, as typed; null when there is none to compare with. */
  tolerance: z.strictObject({ typed: Typed, defaultUnit: Unit, valueMm: z.number().positive() }).nullable(),
  /** Draws the order of the parts. */
  seed: z.int().min(0).max(4_294_967_295),
});
export type StudyPlan = z.infer<typeof StudyPlan>;

/** One reading of a gauge study; the person is the author of the entry. */
export const StudyReading = z.strictObject({
  reading: z.uuid(),
  part: z.uuid(),
  /** From 1. */
  trial: z.int().min(1).max(5),
  typed: Typed,
  defaultUnit: Unit,
  valueMm: z.number(),
  /** True when the person was asked about an implausible value and kept it. */
  confirmed: z.boolean(),
  /** Overlapping ring ends: the typed number is the overlap, the value its negative. */
  overlap: z.boolean(),
});
export type StudyReading = z.infer<typeof StudyReading>;

export const studyOpened = defineKind({
  kind: 'study opened',
  v: 1,
  subject: 'study',
  role: 'study',
  body: StudyPlan,
  line: ({ name, characteristic, parts, people, trials }) =>
    `Gauge study “${name}” opened: ${characteristic}, ${parts.length} parts, ${people.length} people, ${trials} trials`,
  upgrades: [],
});

export const studyReadingEntered = defineKind({
  kind: 'study reading entered',
  v: 1,
  subject: 'study',
  role: 'study reading',
  body: StudyReading,
  // Without the value: whoever reads on must not come across it.
  line: ({ trial }) => `Study reading entered, trial ${trial}`,
  upgrades: [],
});

/** Takes a reading of one's own back; another may then be entered in its place. */
export const studyReadingWithdrawn = defineKind({
  kind: 'study reading withdrawn',
  v: 1,
  subject: 'study',
  role: 'study reading',
  body: z.strictObject({ reading: z.uuid(), reason: z.string().trim().min(1).max(500) }),
  line: ({ reason }) => `Withdrew a study reading: ${reason}`,
  upgrades: [],
});

/** Nothing more is entered; from here on everybody at the site sees all readings. */
export const studyClosed = defineKind({
  kind: 'study closed',
  v: 1,
  subject: 'study',
  role: 'study',
  body: z.strictObject({ reason: z.string().trim().min(1).max(500) }),
  line: ({ reason }) => `Gauge study closed: ${reason}`,
  upgrades: [],
});
