import { type Mm, toMm } from '../../units/index.ts';
import type { SizeDesignation } from '../designation.ts';

/** What of the size was not in the designation and was filled in. */
export type AssumedSize = 'diameter' | 'width' | 'flange height';

/** Bead seats of earthmover rims slope 5° towards the middle (from memory of ISO 4250-3). */
const SEAT_TAPER_DEGREES = 5;
/** Slope of the mounting taper of a demountable rim, named in rim makers' handbooks. */
export const MOUNTING_TAPER_DEGREES = 28;

/** Size used where none is understood: 25-22.00/3.0, a common loader rim. */
const DEFAULT_WIDTH_IN = 22;
const DEFAULT_FLANGE_HEIGHT_IN = 3;
/** Flange heights outside this range do not occur and are not drawn. */
const FLANGE_HEIGHT_IN = { min: 1, max: 12 } as const;

/** Diameter code to draw by when only the width is known; common pairs of width and diameter, our own choice. */
const CODE_BY_WIDTH_IN: readonly (readonly [widthUpTo: number, code: number])[] = [
  [25, 25],
  [28, 33],
  [36, 45],
  [40, 57],
];

/**
 * Measures of a section in mm. Width and flange height come from the designation and are to scale; everything
 * else is schematic, our own choice of proportions, and grows mildly with the diameter code.
 */
export interface Measures {
  /** Between the flanges' inner faces. */
  readonly widthMm: Mm;
  /** From the bead seat at the flange's inner face to the top of the flange. */
  readonly flangeHeightMm: Mm;
  /** Axial reach of a flange outboard of its inner face. */
  readonly flangeReach: number;
  readonly diameterCode: number;
  readonly assumed: readonly AssumedSize[];
  /** One unit of thickness: 1 mm at diameter code 25. */
  readonly k: number;
  readonly centreWall: number;
  readonly flangeWall: number;
  /** Radius between bead seat and flange. */
  readonly heelRadius: number;
  /** Height of the nominal bead seat, where it meets the flange's inner face. */
  readonly seatY: number;
  /** Height of the ledge that carries a loose flange, below the seat. */
  readonly ledgeY: number;
  /** Top of the stop behind a loose flange. */
  readonly stopY: number;
  /** Bore of the bead seat band, and the land of the gutter section under it. */
  readonly boreY: number;
  /** Axial length from flange face to the toe of the seat. */
  readonly seatLength: number;
  /** Outboard end of the bead seat band, measured from the flange's inner face. */
  readonly bandEnd: number;
  /** Length of an end of the rim base, from the flange's inner face to the plain centre. */
  readonly endLength: number;
}

/** Measures to draw a size by; null stands for a size that is not understood. */
export function measuresOf(size: SizeDesignation | null): Measures {
  const assumed: AssumedSize[] = [];
  const fill = <T>(value: T | undefined, name: AssumedSize, instead: T): T => {
    if (value !== undefined) return value;
    assumed.push(name);
    return instead;
  };
  const widthIn = fill(size?.widthIn, 'width', DEFAULT_WIDTH_IN);
  const given = size?.flangeHeightIn;
  const known = given !== undefined && given >= FLANGE_HEIGHT_IN.min && given <= FLANGE_HEIGHT_IN.max;
  const heightIn = fill(known ? given : undefined, 'flange height', DEFAULT_FLANGE_HEIGHT_IN);
  const byWidth = CODE_BY_WIDTH_IN.find(([upTo]) => widthIn <= upTo)?.[1] ?? 63;
  const diameterCode = fill(size?.diameterCode, 'diameter', byWidth);
  const widthMm = toMm(widthIn, 'in');
  const flangeHeightMm = toMm(heightIn, 'in');
  // Both ends together need 360 units of the width, so narrow rims are drawn with thinner walls.
  const k = Math.min((diameterCode / 25) ** 0.6, widthMm / 360);
  const flangeWall = Math.min(12 * k, 0.26 * flangeHeightMm);
  const seatY = 46 * k;
  return {
    widthMm,
    flangeHeightMm,
    flangeReach: flangeReach(flangeHeightMm, size?.flangeWidthIn),
    diameterCode,
    assumed,
    k,
    centreWall: 12 * k,
    flangeWall,
    heelRadius: Math.min(7 * k, 0.2 * flangeHeightMm),
    seatY,
    ledgeY: seatY - 5 * k,
    stopY: seatY + Math.min(11 * k, 0.3 * flangeHeightMm),
    boreY: 30 * k,
    seatLength: 88 * k,
    bandEnd: flangeWall + 11 * k,
    endLength: 165 * k,
  };
}

/** The designation's flange width when it can be drawn, else a share of the height (schematic, our own choice). */
function flangeReach(heightMm: number, widthIn: number | undefined): number {
  const given = widthIn === undefined ? 0 : toMm(widthIn, 'in');
  return given >= 0.6 * heightMm && given <= 2 * heightMm ? given : 0.8 * heightMm;
}

/** Height of the tapered seat at `u` mm outboard of the flange's inner face (negative: towards the middle). */
export function seatHeight({ seatY }: Pick<Measures, 'seatY'>, u: number): number {
  return seatY + u * Math.tan((SEAT_TAPER_DEGREES * Math.PI) / 180);
}
