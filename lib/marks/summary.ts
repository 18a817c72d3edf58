import { awaitsWidth, draftForm, draftShape } from './drawing.ts';
import { type Scene, selectedShape, type Work } from './work.ts';

/** What buttons and a line of advice need to know about the work under way. */
export interface WorkSummary {
  /** A shape is being drawn: finish and cancel have a meaning. */
  readonly drawing: boolean;
  readonly canFinish: boolean;
  /** What finishing does next: end the mark, or go on to the width of a band. */
  readonly finishGives: 'mark' | 'width';
  /** A point of the selected mark is chosen, so removing means the point and not the mark. */
  readonly pointChosen: boolean;
  readonly canRemove: boolean;
  /** One short sentence of advice, empty when none is needed. */
  readonly hint: string;
}

function hintOf(work: Work, scene: Scene): string {
  if (work.edit?.removing) return 'Lift to remove this point, move on to keep it';
  if (work.tool === 'look') {
    return selectedShape(work, scene) === null ? '' : 'Drag a ring or the line; hold a ring to remove it';
  }
  const { draft } = work;
  if (work.aim?.snap?.kind === 'close') return 'Lift to close the outline';
  if (work.aim?.snap?.kind === 'branch') return 'Lift to start a branch here';
  if (draft === null) {
    if (work.tool === 'spot') return 'Touch the place';
    return work.tool === 'angle'
      ? 'Touch one line, far from where they meet: lifting sets it'
      : 'Touch the first point: lifting sets it';
  }
  const count = draft.lines[draft.active]?.length ?? 0;
  switch (draftForm(draft)) {
    case 'trace':
      return count < 2
        ? 'Touch the next point along the crack'
        : 'Touch on along the crack, or its line to branch';
    case 'patch':
      return count < 3 ? 'Touch round the area' : 'Touch on, or the first point to close';
    case 'band':
      if (draft.widthPx !== null) return 'Drag to the edge of the band, then finish';
      return count < 2 ? 'Touch the next point along the middle' : 'Touch on, then set the width';
    case 'span':
      return 'Touch the other end';
    case 'angle':
      return count < 2
        ? 'Touch the vertex, where the lines meet'
        : 'Touch the other line, far from the vertex';
    case 'spot':
      return '';
  }
}

/** Sums up the work under way for the buttons around the photo. */
export function summaryOf(work: Work, scene: Scene): WorkSummary {
  const drawing = work.draft !== null;
  const toWidth = work.draft !== null && awaitsWidth(work.draft);
  return {
    drawing,
    canFinish: work.draft !== null && (toWidth || draftShape(work.draft) !== null),
    finishGives: toWidth ? 'width' : 'mark',
    pointChosen: work.point !== null && work.point.mark === scene.selected,
    canRemove: drawing || (selectedShape(work, scene) !== null && !scene.readOnly),
    hint: scene.readOnly ? '' : hintOf(work, scene),
  };
}
