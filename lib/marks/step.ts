import { assertNever } from '../base/index.ts';
import { choosePoint, endEdit, nudgeSelected, removeChosen } from './chosen.ts';
import {
  aimAt,
  awaitsWidth,
  beginWidth,
  type Draft,
  draftShape,
  emptyDraft,
  isWhole,
  moveDraftPoint,
  placePoint,
  widthTo,
} from './drawing.ts';
import { keptPoint, shapeProblem } from './edit.ts';
import { dragTo, takeHold } from './editing.ts';
import { hitShape, markUnder } from './hit.ts';
import { pointRefs } from './lines.ts';
import { distancePx } from './points.ts';
import type { PointPx } from './shape.ts';
import type { DrawingTool, Tool } from './tool.ts';
import {
  idleWork,
  only,
  pressOnDraft,
  type Scene,
  type Step,
  selectedShape,
  tells,
  type Work,
  type WorkEvent,
} from './work.ts';

/** A finger that has moved less than this share of its reach has not moved. */
const SLOP_SHARE = 0.25;

/** The next state of the hand's work after one event, and what the record or the screen must be told. Pure. */
export function step(work: Work, event: WorkEvent, scene: Scene): Step {
  switch (event.kind) {
    case 'down':
      return down(work, event.at, event.reachPx, scene);
    case 'move':
      return move(work, event.at, event.reachPx, scene);
    case 'up':
      return up(work, event.at, event.reachPx, scene);
    case 'hover':
      return hover(work, event.at, event.reachPx, scene);
    case 'long':
      return long(work);
    case 'drop':
      return only(dropped(work));
    case 'tool':
      return changeTool(work, event.tool);
    case 'cancel':
      return cancel(work, scene);
    case 'finish':
      return finish(work);
    case 'back':
      return only(back(work));
    case 'remove':
      return work.draft === null ? removeChosen(work, scene) : only(back(work));
    case 'settle':
      return work.edit?.grip === null ? endEdit(work) : only(work);
    case 'nudge':
      return nudgeSelected(work, event.byPx, scene);
    case 'point':
      return choosePoint(work, event.step, scene);
    default:
      return assertNever(event);
  }
}

function drawingTool(work: Work): DrawingTool | null {
  return work.tool === 'look' ? null : work.tool;
}

function down(work: Work, at: PointPx, reachPx: number, scene: Scene): Step {
  const tool = drawingTool(work);
  if (tool !== null && !scene.readOnly) {
    const draft = work.draft ?? emptyDraft(tool);
    if (draft.widthPx !== null) {
      return only({ ...work, draft: widthTo(draft, at), press: { kind: 'width', before: draft }, aim: null });
    }
    const onPoint = pressOnDraft(draft, at, reachPx);
    if (onPoint !== null)
      return only({ ...work, press: onPoint, aim: aimAt(draft, at, reachPx, scene.frame) });
    return only({ ...work, press: { kind: 'aim' }, aim: aimAt(draft, at, reachPx, scene.frame) });
  }
  const chosen = selectedShape(work, scene);
  const hit = chosen && !scene.readOnly ? hitShape(chosen.shape, at, reachPx) : null;
  if (chosen === null || hit === null || hit.kind === 'inside') {
    return only({ ...work, press: { kind: 'tap', from: at } });
  }
  const edit = takeHold(chosen.mark, chosen.shape, hit.kind === 'line' ? null : hit, at);
  const ref = edit.grip?.kind === 'point' ? edit.grip.ref : null;
  return only({ ...work, edit, press: null, point: ref && { mark: chosen.mark, ref } });
}

function move(work: Work, at: PointPx, reachPx: number, scene: Scene): Step {
  const slopPx = reachPx * SLOP_SHARE;
  if (work.edit !== null) return only({ ...work, edit: dragTo(work.edit, at, slopPx, scene.frame) });
  const { press, draft } = work;
  switch (press?.kind) {
    case undefined:
      return only(work);
    case 'tap':
      return only(distancePx(press.from, at) > slopPx ? { ...work, press: null } : work);
    case 'width':
      return only(draft === null ? work : { ...work, draft: widthTo(draft, at) });
    case 'draft-point': {
      if (draft === null || (!press.moved && distancePx(press.from, at) <= slopPx)) return only(work);
      const to = keptPoint(at, scene.frame);
      const moved = moveDraftPoint(draft, press.at, to, press.before);
      return only({ ...work, draft: moved, press: { ...press, at: to, moved: true }, aim: null });
    }
    case 'aim': {
      const tool = drawingTool(work);
      if (tool === null) return only(work);
      return only({ ...work, aim: aimAt(draft ?? emptyDraft(tool), at, reachPx, scene.frame) });
    }
    default:
      return assertNever(press);
  }
}

function up(work: Work, at: PointPx, reachPx: number, scene: Scene): Step {
  const { press, draft } = work;
  if (work.edit !== null && work.edit.grip !== null) {
    return work.edit.removing ? removeChosen(work, scene) : endEdit(work);
  }
  if (press === null) return only(work);
  const idle: Work = { ...work, press: null, aim: null };
  if (press.kind === 'tap') return tap(idle, at, reachPx, scene);
  if (press.kind === 'width') {
    return only({ ...idle, draft: draft && { ...draft, earlier: press.before.earlier } });
  }
  if (press.kind === 'draft-point' && press.moved) return only(idle);
  const tool = drawingTool(work);
  if (tool === null) return only(idle);
  const base = draft ?? emptyDraft(tool);
  const aim = aimAt(base, at, reachPx, scene.frame);
  if (aim.snap?.kind === 'close') return complete(idle, base);
  const placed = placePoint(base, aim);
  return isWhole(placed) ? complete(idle, placed) : only({ ...idle, draft: placed });
}

function tap(work: Work, at: PointPx, reachPx: number, scene: Scene): Step {
  const mark = markUnder(scene.marks, at, reachPx);
  if (mark === scene.selected) return only({ ...work, point: null });
  return tells({ ...work, point: null }, { kind: 'selected', mark });
}

function hover(work: Work, at: PointPx, reachPx: number, scene: Scene): Step {
  const tool = drawingTool(work);
  if (tool === null || work.press !== null || scene.readOnly) return only(work);
  const draft = work.draft ?? emptyDraft(tool);
  return only({ ...work, aim: draft.widthPx === null ? aimAt(draft, at, reachPx, scene.frame) : null });
}

function long(work: Work): Step {
  const { edit } = work;
  if (edit === null || edit.moved || edit.grip?.kind !== 'point') return only(work);
  // An insert handle held long was no wish to remove the point it has just made.
  if (pointRefs(edit.before).length !== pointRefs(edit.shape).length) return only(work);
  return only({ ...work, edit: { ...edit, removing: true } });
}

/** The state with whatever the pointer had begun undone; points set before it stay. */
function dropped(work: Work): Work {
  const { press } = work;
  const draft = press?.kind === 'draft-point' || press?.kind === 'width' ? press.before : work.draft;
  const isEmpty = draft === null || draft.lines.every((points) => points.length === 0);
  return { ...work, draft: isEmpty ? null : draft, press: null, aim: null, edit: null };
}

/** The draft one step earlier. */
function back(work: Work): Work {
  const rest = dropped(work);
  return { ...rest, draft: rest.draft?.earlier ?? null };
}

function changeTool(work: Work, tool: Tool): Step {
  if (tool === work.tool) return only(work);
  const rest = dropped(work);
  const next: Work = { ...idleWork(tool), point: work.point };
  const shape = rest.draft && draftShape(rest.draft);
  if (!rest.draft || !shape || shapeProblem(shape) !== null) return only(next);
  return tells(next, { kind: 'drawn', shape, tool: rest.draft.tool });
}

function cancel(work: Work, scene: Scene): Step {
  if (work.draft !== null || work.edit !== null || work.press !== null) {
    return only({ ...work, draft: null, press: null, aim: null, edit: null });
  }
  if (work.point !== null) return only({ ...work, point: null });
  return scene.selected === null ? only(work) : tells(work, { kind: 'selected', mark: null });
}

function complete(work: Work, draft: Draft): Step {
  const shape = draftShape(draft);
  if (shape === null) return only(work);
  const problem = shapeProblem(shape);
  if (problem !== null) return tells({ ...work, draft: work.draft }, { kind: 'refused', problem });
  return tells({ ...work, draft: null, press: null, aim: null }, { kind: 'drawn', shape, tool: draft.tool });
}

function finish(work: Work): Step {
  if (work.draft === null) return work.edit?.grip === null ? endEdit(work) : only(work);
  if (awaitsWidth(work.draft)) return only({ ...dropped(work), draft: beginWidth(work.draft) });
  return complete(dropped(work), work.draft);
}
