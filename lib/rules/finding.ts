import type { DefectKind, FindMethod } from '../marks/index.ts';
import type { Bounds, BoundsOf, RowInTable, Source } from '../tolerances/index.ts';
import type { CharacteristicId, RingState, ZoneId } from '../wheel/index.ts';
import type { Sized } from './evidence.ts';

/** Classes from mild to severe. */
export const CLASSES = ['keep', 'repair', 'scrap'] as const;
export type Class = (typeof CLASSES)[number];
export type Result = Class | 'hold';

/** The more severe of two classes. */
export function worse(a: Class, b: Class): Class {
  return CLASSES.indexOf(a) >= CLASSES.indexOf(b) ? a : b;
}

/** The most severe class among findings; null when there are none. */
export function worstClass(findings: readonly { readonly class: Class }[]): Class | null {
  return findings.reduce<Class | null>(
    (so, finding) => (so === null ? finding.class : worse(so, finding.class)),
    null,
  );
}

/** The row a finding rests on, with its owner. */
export interface RuleCited {
  readonly table: string;
  readonly edition: string;
  readonly row: string;
  readonly source: Source;
}

/** Repeats with one instrument at one place put together. */
export interface ReadingGroup {
  readonly method: 'gauge' | 'photo';
  /** Null: none was named, or a photo. */
  readonly instrument: string | null;
  readonly value: number;
  /** Standard uncertainty: the instrument's own and the spread of the repeats. */
  readonly u: number;
  readonly repeats: number;
  readonly readings: readonly string[];
}

/** What another row said of the same thing. */
export interface OtherAnswer extends Pick<RuleCited, 'table' | 'edition' | 'row'> {
  readonly class: Class;
}

/** Readings at one place put together. */
export interface PositionValue {
  readonly clock: number | null;
  readonly value: number;
  /** Standard uncertainty, spread of repeats included. */
  readonly u: number;
  readonly repeats: number;
  readonly readings: readonly string[];
  /** Only where more than one instrument read here: each on its own. */
  readonly groups?: readonly ReadingGroup[];
  /** With `groups`: what u was widened by because they differ; 1 where they agree, and where one of them alone governs. */
  readonly birgeRatio?: number;
  /** Only where the value is not made of all readings: those that it is made of. */
  readonly counted?: readonly string[];
  /** Only where instruments here disagree, so that the worst of them governs. */
  readonly disagree?: true;
}

/** A size compared with a limit. Lengths in mm, areas in mm². */
export interface LimitFinding {
  readonly about: 'limit';
  readonly characteristic: CharacteristicId;
  readonly state: RingState | null;
  readonly zone: ZoneId;
  readonly positions: readonly PositionValue[];
  readonly governing: PositionValue;
  /** Bounds as sizes, whatever the row counts them from. */
  readonly keep: Bounds;
  readonly repair: Bounds | null;
  /** Only where the row counts its bounds from the size of the new part: how, and that size. */
  readonly relative?: {
    readonly boundsOf: BoundsOf;
    readonly nominal: Sized;
    readonly keep: Bounds;
    readonly repair: Bounds | null;
  };
  readonly risk: number;
  readonly decisionRule: 'guarded' | 'simple acceptance';
  readonly beyondKeep: number;
  readonly beyondRepair: number;
  /** Distance of the governing value to the nearest keep bound; negative when beyond it. */
  readonly margin: number;
  /** The worst place by the guarded rule, and the worst by its value alone: both whichever of the two decides. */
  readonly guardedClass: Class;
  readonly simpleClass: Class;
  readonly class: Class;
  readonly rule: RuleCited;
  readonly noRework: RuleCited | null;
  /** Only where repair under this row needs rework and rework is not on offer: repair then means scrap. */
  readonly reworkForbidden?: true;
  /** Only where other rows speak of the same quantity: what they say. */
  readonly others?: readonly OtherAnswer[];
  readonly sentence: string;
}

/** A defect judged by a rule. `rule` is null when no rule on file speaks of it. */
export interface DefectFinding {
  readonly about: 'defect';
  readonly defect: DefectKind;
  readonly defectId: string;
  readonly zone: ZoneId;
  readonly clock: number | null;
  readonly method: FindMethod;
  readonly class: Class;
  readonly rule: RuleCited | null;
  readonly noRework: RuleCited | null;
  /** What the sentence rests on beside the fields above; left out by versions 1 and 2. Lengths in mm, areas in mm². */
  readonly basis?: {
    readonly note: string;
    readonly lengthMm: Sized | null;
    readonly areaMm2: Sized | null;
    /** What the row says, and up to which size it leaves repair open; null without a row or a size. */
    readonly says: string | null;
    readonly repairUpToMm: number | null;
    readonly repairUpToMm2: number | null;
  };
  /** Only where other rows speak of the same defect: what they say. */
  readonly others?: readonly OtherAnswer[];
  readonly sentence: string;
}

/** Age and hours on duty judged by a rule. */
export interface AgeFinding {
  readonly about: 'age';
  readonly made: { readonly from: string; readonly to: string } | null;
  readonly dutyHours: Sized | null;
  /** What the rule asks about and nobody knows, in words. */
  readonly unknown: readonly string[];
  /**
   * Probability that the part has served longer than it may, by years or by hours, which are taken as independent; null
   * when nothing is known.
   */
  readonly beyond: number | null;
  readonly class: Class;
  readonly rule: RuleCited;
  readonly noRework: RuleCited | null;
  /** What the sentence rests on beside the fields above; left out by version 2. `on` is the day of the verdict. */
  readonly basis?: {
    readonly on: string;
    readonly upToYears: number | null;
    readonly upToHours: number | null;
    readonly says: string;
  };
  readonly sentence: string;
}

export type Finding = LimitFinding | DefectFinding | AgeFinding;

/** Something without which a part cannot be kept. */
export interface Missing {
  readonly what:
    | 'gate'
    | 'part'
    | 'look'
    | 'photo'
    | 'reading'
    | 'instrument'
    | 'disagreement'
    | 'size'
    | 'test'
    | 'age'
    | 'rule'
    | 'record';
  readonly text: string;
  readonly zone?: ZoneId;
  readonly characteristic?: CharacteristicId;
  readonly clock?: number | null;
  readonly state?: RingState | null;
}

/** A class by a limit as it counts: repair is scrap where it needs rework and rework is not on offer. */
export function onOffer(finding: Pick<LimitFinding, 'reworkForbidden'>, by: Class): Class {
  return by === 'repair' && finding.reworkForbidden === true ? 'scrap' : by;
}

/** The citation of a row. */
export function cite({ table, row }: RowInTable): RuleCited {
  return { table: table.table, edition: table.edition, row: row.row, source: row.source };
}
