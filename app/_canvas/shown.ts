import { markWord } from '../../lib/marks/index.ts';
import { type Look, lookOf, OTHER_HAND_LOOK } from './looks.ts';
import type { Told } from './told.ts';
import type { PhotoCanvasProps, PhotoMark } from './types.ts';

/** A mark with all that its drawing needs. */
export interface ShownMark extends PhotoMark {
  readonly look: Look;
  readonly label: string;
}

/** The marks as the hand has left them, with look and label; a suggestion's label begins with a question mark. */
export function shownMarks({ marks, labelFor }: PhotoCanvasProps, told: Told): ShownMark[] {
  return told.applied(marks).map((mark) => ({
    ...mark,
    look: mark.otherHand === true ? OTHER_HAND_LOOK : lookOf(mark.defect),
    label: `${mark.suggested ? '? ' : ''}${labelFor ? labelFor(mark) : markWord(mark)}`,
  }));
}
