import type { DefectKind, DrawingTool } from '../../lib/marks/index.ts';
import { TOOL_MAKES } from '../../lib/marks/index.ts';

/**
 * How a kind of mark is drawn: a light line in a pattern of its own over a dark casing, so that it shows on
 * rust, on paint and in the sun. Lengths in CSS px on the screen at any zoom. The word comes as a label.
 */
export interface Look {
  readonly colour: string;
  readonly widthCss: number;
  /** On and off lengths; empty for an unbroken line. */
  readonly dash: readonly number[];
  readonly fill: string | null;
}

export const CASING = 'rgba(8, 10, 12, 0.86)';
export const CASING_EXTRA_CSS = 3.5;
export const HANDLE_LIGHT = '#ffffff';
export const HANDLE_CHOSEN = '#ffd400';
export const GUIDE_COLOUR = '#ffe27a';

const DEFECT_LOOKS: Readonly<Record<DefectKind, Look>> = {
  crack: { colour: '#ff8f86', widthCss: 2.5, dash: [], fill: null },
  corrosion: { colour: '#ffb648', widthCss: 2.5, dash: [11, 5], fill: 'rgba(255, 182, 72, 0.14)' },
  pitting: { colour: '#ffe45c', widthCss: 3, dash: [1, 6], fill: 'rgba(255, 228, 92, 0.1)' },
  wear: { colour: '#74d8ff', widthCss: 2.5, dash: [14, 5, 2, 5], fill: 'rgba(116, 216, 255, 0.16)' },
  bent: { colour: '#d7b5ff', widthCss: 2.5, dash: [20, 7], fill: 'rgba(215, 181, 255, 0.12)' },
  broken: { colour: '#ff6fb1', widthCss: 4.5, dash: [], fill: 'rgba(255, 111, 177, 0.16)' },
  other: { colour: '#f1efe8', widthCss: 2.5, dash: [5, 5], fill: 'rgba(241, 239, 232, 0.1)' },
};
const PLAIN_LOOK: Look = { colour: '#ffffff', widthCss: 2, dash: [], fill: null };

/** Marks of the other person of a comparison. */
export const OTHER_HAND_LOOK: Look = { colour: '#ffffff', widthCss: 2.5, dash: [2, 7], fill: null };

/** The look of a mark by what it says is there; null: a measure or a pointer. */
export function lookOf(defect: DefectKind | null): Look {
  return defect === null ? PLAIN_LOOK : DEFECT_LOOKS[defect];
}

/** The look a tool's marks will have. */
export function lookOfTool(tool: DrawingTool): Look {
  return lookOf(TOOL_MAKES[tool].defect);
}
