import { z } from 'zod';
import { DefectKind, FindMethod } from '../marks/index.ts';
import {
  CharacteristicId,
  ClockPosition,
  ComponentKind,
  ConstructionId,
  RingState,
  ZoneId,
} from '../wheel/index.ts';

/** Where a row comes from and what sort of authority it has. */
export const SourceKind = z.enum([
  'published',
  'maker',
  'site',
  'common practice',
  'from memory',
  'demonstration',
]);
export type SourceKind = z.infer<typeof SourceKind>;

export const Source = z.strictObject({
  title: z.string().trim().min(1).max(200),
  section: z.string().trim().max(120).default(''),
  page: z.string().trim().max(40).default(''),
  edition: z.string().trim().max(160).default(''),
  kind: SourceKind,
});
export type Source = z.infer<typeof Source>;

/** An interval in mm (or mm² for areas); a missing end is open. Ends belong to the interval. */
export const Bounds = z
  .strictObject({ min: z.number().optional(), max: z.number().optional() })
  .refine((bounds) => bounds.min !== undefined || bounds.max !== undefined, {
    error: 'Give min, max or both',
  })
  .refine((bounds) => (bounds.min ?? -Infinity) <= (bounds.max ?? Infinity), { error: 'min is above max' });
export type Bounds = z.infer<typeof Bounds>;

const Range = z.strictObject({ min: z.number(), max: z.number() });

/** Which parts a row speaks of; a part left out means any. */
const Selector = {
  components: z.array(ComponentKind).min(1).optional(),
  zones: z.array(ZoneId).min(1).optional(),
  /** Nominal diameter codes, inclusive. A wheel whose size is not understood matches no row with a size. */
  diameterCodes: Range.optional(),
};

/** What a repair would take: rework heats, welds or machines the part; upkeep cleans, dresses by hand or coats it. */
const RepairNeeds = z.enum(['rework', 'upkeep']);
export type RepairNeeds = z.infer<typeof RepairNeeds>;

const RowBase = { row: z.string().min(1).max(60), source: Source, note: z.string().max(500).default('') };

/**
 * What the bounds of a limit are counted from: `value` the reading itself (mm, mm²); `from nominal` the reading less
 * the nominal size (mm, mm², negative is less); `percent lost` 100 × (nominal − reading) / nominal.
 */
const BoundsOf = z.enum(['value', 'from nominal', 'percent lost']);
export type BoundsOf = z.infer<typeof BoundsOf>;

/** Size of the new part, mm (mm² for areas), with its standard uncertainty (from the drawing's tolerance). */
const Nominal = z.strictObject({ value: z.number().positive(), u: z.number().nonnegative().default(0) });

export const LimitRow = z.strictObject({
  ...RowBase,
  type: z.literal('limit'),
  ...Selector,
  characteristic: CharacteristicId,
  states: z.array(RingState).min(1).optional(),
  /** Left out: `value`. */
  boundsOf: BoundsOf.optional(),
  /** Needed unless the bounds are of the value itself. */
  nominal: Nominal.optional(),
  /** Inside: keep. */
  keep: Bounds,
  /** Inside, but not inside keep: repair. Null: nothing between keep and scrap. */
  repair: Bounds.nullable(),
  repairNeeds: RepairNeeds.default('rework'),
  /** Ways of measuring the row accepts. */
  methods: z.array(z.enum(['gauge', 'photo'])).min(1),
});
export type LimitRow = z.infer<typeof LimitRow>;

export const DefectRow = z.strictObject({
  ...RowBase,
  type: z.literal('defect'),
  ...Selector,
  defects: z.array(DefectKind).min(1),
  verdict: z.enum(['repair', 'scrap']),
  /** Repair only up to this length of a crack, mm; longer, or not measured, is not repair. */
  repairUpToMm: z.number().positive().optional(),
  /** Repair only up to this area of a patch, mm²; larger, or not measured, is not repair. */
  repairUpToMm2: z.number().positive().optional(),
  repairNeeds: RepairNeeds.default('rework'),
  /** What the source says, in our words. */
  says: z.string().min(1).max(400),
});
export type DefectRow = z.infer<typeof DefectRow>;

/** Rework is not on offer for damaged parts: a repair that needs it becomes scrap. */
export const NoReworkRow = z.strictObject({
  ...RowBase,
  type: z.literal('no rework'),
  ...Selector,
  says: z.string().min(1).max(400),
});
export type NoReworkRow = z.infer<typeof NoReworkRow>;

/** A test whose record must not be older than this, in months or in hours on duty, before a part can be kept. */
export const TestRow = z.strictObject({
  ...RowBase,
  type: z.literal('test'),
  ...Selector,
  methods: z.array(FindMethod.exclude(['visual'])).min(1),
  withinMonths: z.int().min(1).max(240).optional(),
  withinHours: z.number().positive().optional(),
});
export type TestRow = z.infer<typeof TestRow>;

/** How long a part may serve: years since it was made, hours on duty, or both, whichever comes first. */
export const AgeRow = z.strictObject({
  ...RowBase,
  type: z.literal('age'),
  ...Selector,
  upToYears: z.number().positive().optional(),
  upToHours: z.number().positive().optional(),
  /** What a part is that has served longer. */
  beyond: z.enum(['repair', 'scrap']),
  repairNeeds: RepairNeeds.default('rework'),
  /** What a part is whose age or hours nobody knows; never keep. */
  unknown: z.enum(['hold', 'repair', 'scrap']),
  says: z.string().min(1).max(400),
});
export type AgeRow = z.infer<typeof AgeRow>;

const MadeBy = z.strictObject({ maker: z.string().trim().min(1).max(80), series: z.string().trim().max(80) });

/**
 * Which parts may go together, or may not, whatever is stamped on them. Without such a row parts match when maker and
 * series are the same. An empty series means any of the maker.
 */
export const MatchRow = z.strictObject({
  ...RowBase,
  type: z.literal('match'),
  /** The two kinds that bear on each other, in the order of `pairs`. */
  between: z.tuple([ComponentKind, ComponentKind]),
  diameterCodes: Range.optional(),
  pairs: z
    .array(z.tuple([MadeBy, MadeBy]))
    .min(1)
    .max(500),
  /** `may`: these pairs match. `may not`: these never do; one such row is stronger than any `may`. */
  together: z.enum(['may', 'may not']),
  says: z.string().min(1).max(400),
});
export type MatchRow = z.infer<typeof MatchRow>;

/** Evidence asked for beyond what the construction itself asks for. */
export const EvidenceRow = z.strictObject({
  ...RowBase,
  type: z.literal('evidence'),
  ...Selector,
  /** A photo of each zone named, or readings of the characteristic at each position. */
  ask: z.discriminatedUnion('what', [
    z.strictObject({ what: z.literal('photo') }),
    z.strictObject({
      what: z.literal('reading'),
      characteristic: CharacteristicId,
      /** Clock positions; an empty list means anywhere. */
      positions: z.array(ClockPosition).max(12),
      /** How many readings at each position. */
      repeats: z.int().min(1).max(20),
      state: RingState.optional(),
    }),
  ]),
});
export type EvidenceRow = z.infer<typeof EvidenceRow>;

export const Row = z.discriminatedUnion('type', [
  LimitRow,
  DefectRow,
  NoReworkRow,
  TestRow,
  AgeRow,
  MatchRow,
  EvidenceRow,
]);
export type Row = z.infer<typeof Row>;

/** White space, or a character that nobody sees, at an end. */
const UNSEEN_AT_AN_END = /^[\s\p{C}]|[\s\p{C}]$/u;

/**
 * A name by which something is found, word for word. White space about it would make it another name that looks the
 * same; it is refused and not taken away, since a table's hash has to say what is stored.
 */
const Name = z
  .string()
  .min(1)
  .refine((name) => !UNSEEN_AT_AN_END.test(name), {
    error: 'White space stands before or after it, which makes it another name',
  });

/** A tolerance table or a rule set: limits and rules with their owner. */
export const Table = z.strictObject({
  table: Name.max(80),
  title: z.string().trim().min(1).max(200),
  edition: Name.max(160),
  issuedBy: z.string().trim().min(1).max(120),
  /** Empty lists mean any. A part whose maker or series is not known matches no table that names one. */
  scope: z.strictObject({
    makers: z.array(Name).default([]),
    series: z.array(Name).default([]),
    constructions: z.array(ConstructionId).default([]),
    components: z.array(ComponentKind).min(1).optional(),
    /** Nominal diameter codes, inclusive. */
    diameterCodes: Range.optional(),
  }),
  effectiveFrom: z.iso.date(),
  /** Last day of effect; left out: until withdrawn. */
  effectiveUntil: z.iso.date().optional(),
  decision: z.strictObject({
    /** `guarded`: the probability of being worse stays within `risk`. `simple acceptance`: the reading against the limit. */
    rule: z.enum(['guarded', 'simple acceptance']),
    risk: z.number().gt(0).lt(0.5).default(0.05),
  }),
  rows: z.array(Row).min(1).max(5000),
});
export type Table = z.infer<typeof Table>;
