import type { SizeDesignation } from '../wheel/index.ts';

/** A length of a rim that is known without measuring it. */
export interface PartLength {
  /** What lies between the two ends. */
  readonly what: string;
  readonly lengthMm: number;
  /** As it is written, with its unit. */
  readonly typed: string;
}

const RIM_WIDTH = 'rim width between the flanges, nominal';
const FLANGE_HEIGHT = 'flange height above the bead seat, nominal';
/** A size that somebody knows from the maker’s drawing or data sheet. */
export const STATED_SIZE = 'size of the part as its maker states it';

const inches = (value: number) => `${value} in`;

/** Lengths that a size designation states: rim width, and flange height where it is given. */
export function partLengths({
  widthIn,
  widthMm,
  flangeHeightIn,
  flangeHeightMm,
}: SizeDesignation): PartLength[] {
  const width = { what: RIM_WIDTH, lengthMm: widthMm, typed: inches(widthIn) };
  return flangeHeightIn === undefined || flangeHeightMm === undefined
    ? [width]
    : [width, { what: FLANGE_HEIGHT, lengthMm: flangeHeightMm, typed: inches(flangeHeightIn) }];
}

/** Half-width of how far a rolled section is off its nominal size: relative, and at least, mm. Our own choice. */
const NOMINAL_SHARE = 0.01;
const NOMINAL_MM = 2;
/** The same for a size on the maker’s drawing, of a part that has worn and been painted. Our own choice. */
const STATED_SHARE = 0.005;
const STATED_MM = 1;

/** Standard uncertainty of a length of a part, rectangular, mm; null for what is no length of a part, such as a tape. */
export function partLengthU(what: string, lengthMm: number): number | null {
  if (what === RIM_WIDTH || what === FLANGE_HEIGHT)
    return Math.max(NOMINAL_SHARE * lengthMm, NOMINAL_MM) / Math.sqrt(3);
  return what === STATED_SIZE ? Math.max(STATED_SHARE * lengthMm, STATED_MM) / Math.sqrt(3) : null;
}
