import type { Problem } from '../base/index.ts';
import { type Aim, type Draft, draftPointUnder } from './drawing.ts';
import type { FramePx } from './edit.ts';
import type { Edit } from './editing.ts';
import type { NamedShape } from './hit.ts';
import { type PointRef, pointAt } from './lines.ts';
import type { PointPx, Shape } from './shape.ts';
import type { DrawingTool, Tool } from './tool.ts';

/** What is on the photo while the hand works: shapes as shown, the selected mark, the photo's size. */
export interface Scene {
  readonly marks: readonly NamedShape[];
  readonly selected: string | null;
  readonly frame: FramePx;
  readonly readOnly: boolean;
}

/** A finger or button that is down: setting a point, on a point of the draft, giving a width, or tapping. */
export type Press =
  | { readonly kind: 'aim' }
  | {
      readonly kind: 'draft-point';
      readonly at: PointPx;
      readonly from: PointPx;
      readonly moved: boolean;
      readonly before: Draft;
    }
  | { readonly kind: 'width'; readonly before: Draft }
  | { readonly kind: 'tap'; readonly from: PointPx };

/** Everything the hand is in the middle of. */
export interface Work {
  readonly tool: Tool;
  readonly draft: Draft | null;
  readonly press: Press | null;
  /** Where a drawing tool points, px; null while it points nowhere. */
  readonly aim: Aim | null;
  readonly edit: Edit | null;
  /** The chosen point of a mark; counts only while that mark is selected. */
  readonly point: { readonly mark: string; readonly ref: PointRef } | null;
}

/** Pointer places in px of the photo; `reachPx` is how far such a touch reaches, also px of the photo. */
export type WorkEvent =
  | { readonly kind: 'down' | 'move' | 'up' | 'hover'; readonly at: PointPx; readonly reachPx: number }
  | { readonly kind: 'long' }
  | { readonly kind: 'drop' }
  | { readonly kind: 'tool'; readonly tool: Tool }
  | { readonly kind: 'cancel' | 'finish' | 'back' | 'remove' | 'settle' }
  | { readonly kind: 'nudge'; readonly byPx: PointPx }
  | { readonly kind: 'point'; readonly step: 1 | -1 };

/** What a step tells the outside. A refusal changes nothing and says why. */
export type Outcome =
  | { readonly kind: 'drawn'; readonly shape: Shape; readonly tool: DrawingTool }
  | { readonly kind: 'redrawn'; readonly mark: string; readonly shape: Shape }
  | { readonly kind: 'withdrawn'; readonly mark: string }
  | { readonly kind: 'selected'; readonly mark: string | null }
  | { readonly kind: 'refused'; readonly problem: Problem };

/** A step's result: the next state and at most one outcome. */
export interface Step {
  readonly work: Work;
  readonly outcome: Outcome | null;
}

/** Nothing under way, with a tool in hand. */
export function idleWork(tool: Tool): Work {
  return { tool, draft: null, press: null, aim: null, edit: null, point: null };
}

/** The next state without an outcome. */
export function only(work: Work): Step {
  return { work, outcome: null };
}

/** The next state with an outcome. */
export function tells(work: Work, outcome: Outcome): Step {
  return { work, outcome };
}

/** The selected mark as shown, an edit under way included; null when none is selected or it is gone. */
export function selectedShape(work: Work, scene: Scene): NamedShape | null {
  if (scene.selected === null) return null;
  if (work.edit?.mark === scene.selected) return { mark: scene.selected, shape: work.edit.shape };
  return scene.marks.find(({ mark }) => mark === scene.selected) ?? null;
}

/** Whether the pointer now belongs to the marks, so that a drag must not move the photo. */
export function holdsPointer(work: Work): boolean {
  return work.edit?.grip != null || (work.press !== null && work.press.kind !== 'tap');
}

/** Where a loupe should look, px: the point being set or moved; null when nothing fine is under way. */
export function loupeAt(work: Work): PointPx | null {
  if (work.edit?.grip?.kind === 'point') return pointAt(work.edit.shape, work.edit.grip.ref);
  if (work.press?.kind === 'draft-point') return work.press.at;
  if (work.press?.kind === 'aim') return work.aim?.at ?? null;
  return null;
}

/** A press on a point of the draft, or null when there is none in reach. */
export function pressOnDraft(draft: Draft, at: PointPx, reachPx: number): Press | null {
  const point = draftPointUnder(draft, at, reachPx);
  return point && { kind: 'draft-point', at: point, from: at, moved: false, before: draft };
}
