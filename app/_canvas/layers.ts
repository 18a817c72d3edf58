import {
  type DrawingTool,
  draftForm,
  draftShape,
  guideIsSet,
  handlesOf,
  linesOf,
  type PointPx,
  type Shape,
  sameRef,
  segmentsOf,
  selectedShape,
} from '../../lib/marks/index.ts';
import type { Easel } from './easel.ts';
import type { Labels } from './labels.ts';
import { CASING, GUIDE_COLOUR, HANDLE_CHOSEN, HANDLE_LIGHT, lookOf, lookOfTool } from './looks.ts';
import { boxOf, paintCross, paintHandle, paintOverlay, paintRing, paintShape } from './paint.ts';
import { levelFor, type PhotoLevels } from './photo.ts';
import { wishOf } from './rest-painter.ts';
import { SMOOTH_SCALE_MAX } from './view.ts';

type Pen = CanvasRenderingContext2D;

function lineShape(points: readonly PointPx[]): Shape {
  return { form: 'trace', branches: [[...points]] };
}

const RING_CSS = 12;
const RING_CSS_MIN = 5;
const GHOST_STRENGTH = 0.5;

function paintPicture(
  pen: Pen,
  photo: PhotoLevels,
  onto: { widthPx: number; heightPx: number },
  scale: number,
  pixelRatio: number,
): void {
  const full = photo.levels[0];
  if (!full) return;
  // Whole and undistorted within the frame; the photo itself has the frame's proportions.
  const fit = Math.min(onto.widthPx / full.width, onto.heightPx / full.height);
  const near = (size: number, whole: number): number => (Math.abs(size / whole - 1) < 0.01 ? whole : size);
  const width = near(full.width * fit, onto.widthPx);
  const height = near(full.height * fit, onto.heightPx);
  const level = levelFor(photo, width * scale * pixelRatio) ?? full;
  pen.imageSmoothingEnabled = scale <= SMOOTH_SCALE_MAX;
  // Pixel centres lie at integers, so the picture begins half a pixel before the first centre.
  pen.drawImage(level, (onto.widthPx - width) / 2 - 0.5, (onto.heightPx - height) / 2 - 0.5, width, height);
}

/** Paints the photo and the earlier one over it; `scale` in CSS px per px of the photo. */
export function paintPhotos(pen: Pen, easel: Easel, scale: number, pixelRatio: number): void {
  const { frame } = easel.scene;
  if (easel.photo) paintPicture(pen, easel.photo, frame, scale, pixelRatio);
  if (easel.ghost) {
    pen.globalAlpha = easel.props.ghost?.strength ?? GHOST_STRENGTH;
    paintPicture(pen, easel.ghost, frame, scale, pixelRatio);
    pen.globalAlpha = 1;
  }
  paintOverlay(pen, easel.props.overlay ?? [], scale);
}

/** Paints what is in hand: the selected mark with its handles, the shape being drawn, the points of the scale. */
export function paintActive(pen: Pen, easel: Easel, labels: Labels | null): void {
  paintSelected(pen, easel, labels);
  paintDraft(pen, easel, labels);
  paintGuide(pen, easel);
}

function paintSelected(pen: Pen, easel: Easel, labels: Labels | null): void {
  const chosen = selectedShape(easel.work, easel.scene);
  const mark = chosen && easel.shown.find((other) => other.mark === chosen.mark);
  if (!chosen || !mark) return;
  const { scale } = easel.view;
  paintShape(pen, chosen.shape, mark.look, scale, 'selected');
  if (labels) labels.draw(pen, { ...wishOf(mark), box: boxOf(chosen.shape) }, scale, easel.scene.frame);
  if (easel.props.readOnly || easel.work.tool !== 'look') return;
  const { edit, point } = easel.work;
  const held = edit?.grip?.kind === 'point' ? edit.grip.ref : null;
  const radius = ringRadius(chosen.shape, scale);
  for (const handle of handlesOf(chosen.shape, easel.reachPx)) {
    if (handle.kind === 'insert' && (edit !== null || easel.props.readOnly)) continue;
    if (handle.kind === 'point' && held && sameRef(handle.ref, held)) {
      paintHeld(pen, handle.at, edit?.removing === true, scale);
      continue;
    }
    const isChosen = handle.kind === 'point' && point?.mark === chosen.mark && sameRef(point.ref, handle.ref);
    paintHandle(pen, handle, isChosen, radius, scale);
  }
}

/** Rings shrink where points stand close on the screen, so that they do not hide the line; CSS px. */
function ringRadius(shape: Shape, scale: number): number {
  if (shape.form === 'spot') return RING_CSS + 4;
  let nearestCss = Infinity;
  const crowded = shape.form === 'trace' || shape.form === 'patch' || shape.form === 'angle';
  for (const { points, closed } of crowded ? linesOf(shape) : []) {
    for (const [a, b] of segmentsOf(points, closed)) {
      nearestCss = Math.min(nearestCss, Math.hypot(b[0] - a[0], b[1] - a[1]) * scale);
    }
  }
  return Math.max(RING_CSS_MIN, Math.min(RING_CSS, nearestCss / 2.3));
}

function paintHeld(pen: Pen, at: PointPx, removing: boolean, scale: number): void {
  if (!removing) {
    paintCross(pen, at, 16, 4, HANDLE_CHOSEN, scale);
    return;
  }
  paintRing(pen, at, 22, '#ff8f86', scale);
  const arm = 9 / scale;
  const strike = new Path2D();
  strike.moveTo(at[0] - arm, at[1] - arm);
  strike.lineTo(at[0] + arm, at[1] + arm);
  strike.moveTo(at[0] + arm, at[1] - arm);
  strike.lineTo(at[0] - arm, at[1] + arm);
  pen.strokeStyle = CASING;
  pen.lineWidth = 6 / scale;
  pen.stroke(strike);
  pen.strokeStyle = '#ff8f86';
  pen.lineWidth = 3 / scale;
  pen.stroke(strike);
}

/** The size of what is being drawn, beside it. */
function paintDraftLabel(pen: Pen, easel: Easel, labels: Labels, shape: Shape, tool: DrawingTool): void {
  const text = easel.props.draftLabel?.(shape, tool) ?? '';
  if (text === '') return;
  labels.draw(
    pen,
    { text, colour: lookOfTool(tool).colour, box: boxOf(shape) },
    easel.view.scale,
    easel.scene.frame,
  );
}

function paintDraft(pen: Pen, easel: Easel, labels: Labels | null): void {
  const { draft, aim, tool } = easel.work;
  const { scale } = easel.view;
  const shape = draft && draftShape(draft);
  if (draft) {
    const look = lookOfTool(draft.tool);
    if (shape?.form === 'band') paintShape(pen, shape, look, scale, 'selected');
    for (const points of draft.lines) {
      if (points.length < 2) continue;
      const run = lineShape(points);
      paintShape(pen, run, { ...look, dash: [] }, scale, 'selected');
    }
    const isPatch = draftForm(draft) === 'patch';
    const first = draft.lines[0]?.[0];
    for (const at of draft.lines.flat()) paintRing(pen, at, 4, look.colour, scale);
    if (labels && shape) paintDraftLabel(pen, easel, labels, shape, draft.tool);
    if (isPatch && first && (shape !== null || aim?.snap?.kind === 'close')) {
      paintRing(pen, first, RING_CSS, HANDLE_CHOSEN, scale);
    }
  }
  if (!aim || tool === 'look') return;
  const line = draft?.lines[draft.active] ?? [];
  const last = line[line.length - 1];
  if (last && aim.snap?.kind !== 'branch') paintThread(pen, last, aim.at, scale);
  if (aim.snap && aim.snap.kind !== 'nothing') paintRing(pen, aim.at, RING_CSS, HANDLE_CHOSEN, scale);
  if (easel.finger !== null) paintCross(pen, aim.at, 16, 4, HANDLE_LIGHT, scale);
}

function paintThread(pen: Pen, from: PointPx, to: PointPx, scale: number): void {
  const thread = new Path2D();
  thread.moveTo(...from);
  thread.lineTo(...to);
  pen.strokeStyle = CASING;
  pen.lineWidth = 3.5 / scale;
  pen.stroke(thread);
  pen.strokeStyle = HANDLE_LIGHT;
  pen.lineWidth = 1.5 / scale;
  pen.setLineDash([5 / scale, 5 / scale]);
  pen.stroke(thread);
  pen.setLineDash([]);
}

function paintGuide(pen: Pen, easel: Easel): void {
  const guide = easel.props.scaleGuide;
  if (!guide) return;
  const { scale } = easel.view;
  const points = easel.guide.shown(guide, easel.props);
  const whole = guideIsSet({ points, wanted: guide.wanted });
  const look = { ...lookOf(null), colour: GUIDE_COLOUR, dash: whole ? [] : [6, 6] };
  const [a, b, c, d] = points;
  if ((guide.wanted === 2 || guide.pairs) && a && b) {
    paintShape(pen, { form: 'span', ends: [a, b] }, look, scale, 'rest');
    if (c && d) paintShape(pen, { form: 'span', ends: [c, d] }, look, scale, 'rest');
  } else if (points.length >= 2) {
    const closed = points.length === guide.wanted;
    const shape: Shape = closed ? { form: 'patch', outline: [...points] } : lineShape(points);
    paintShape(pen, shape, look, scale, 'rest');
  }
  points.forEach((at, index) => {
    const isHeld = easel.guide.at !== null && easel.guide.chosen === index;
    if (isHeld) paintCross(pen, at, 18, 4, GUIDE_COLOUR, scale);
    else if (guide.editable) {
      paintRing(pen, at, RING_CSS, easel.guide.chosen === index ? HANDLE_CHOSEN : GUIDE_COLOUR, scale);
      paintCross(pen, at, 6, 2, GUIDE_COLOUR, scale);
    }
  });
}
