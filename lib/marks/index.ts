export { type Alike, alike, type MarkPair, pairMarks } from './alike.ts';
export {
  type Aim,
  type Draft,
  draftForm,
  draftShape,
  type Snap,
} from './drawing.ts';
export {
  type FramePx,
  frameBox,
  insertPoint,
  keptPoint,
  movePoint,
  moveShape,
  removePoint,
  shapeProblem,
  withWidth,
} from './edit.ts';
export type { Edit, Grip } from './editing.ts';
export { type Guide, guideIsSet, guidePointUnder, moveGuidePoint, withGuidePoint } from './guide.ts';
export {
  type Append,
  type Change,
  change,
  forgetMark,
  type History,
  type MarkSet,
  NO_HISTORY,
  redo,
  type Turned,
  undo,
} from './history.ts';
export {
  distanceToShapePx,
  type Handle,
  type Hit,
  handlesOf,
  hitShape,
  markUnder,
  type NamedShape,
} from './hit.ts';
export { eventOfKey, type KeyPress } from './keys.ts';
export { linesOf, mapPoints, type PointRef, pointAt, pointRefs, type ShapeLine, sameRef } from './lines.ts';
export {
  type BoxPx,
  bandEdgesPx,
  boundsPx,
  boxesMeet,
  shapeAreaPx2,
} from './measure.ts';
export {
  distancePx,
  insideOutline,
  lineLengthPx,
  nearestOnSegment,
  outlineAreaPx2,
  outlineCrossesItself,
  segmentsMeet,
  segmentsOf,
} from './points.ts';
export {
  DefectKind,
  FindMethod,
  Mark,
  PointPx,
  Shape,
  type ShapeForm,
} from './shape.ts';
export { step } from './step.ts';
export { summaryOf, type WorkSummary } from './summary.ts';
export { type DrawingTool, markWord, TOOL_MAKES, TOOLS, type Tool, type ToolMakes } from './tool.ts';
export {
  holdsPointer,
  idleWork,
  loupeAt,
  type Outcome,
  type Scene,
  type Step,
  selectedShape,
  type Work,
  type WorkEvent,
} from './work.ts';
