import { assertNever, must, remembered } from '../base/index.ts';
import { type FramePx, keptPoint, withWidth } from './edit.ts';
import { distancePx, lineLengthPx, nearestOnSegment, segmentsOf } from './points.ts';
import type { PointPx, Shape, ShapeForm } from './shape.ts';
import { type DrawingTool, TOOL_MAKES } from './tool.ts';

/** A shape being drawn. `earlier` is the draft before the last step, so that steps can be taken back one by one. */
export interface Draft {
  readonly tool: DrawingTool;
  /** Lines so far, px; a trace has one per branch, the others one. */
  readonly lines: readonly (readonly PointPx[])[];
  /** Line the next point goes to, from 0. */
  readonly active: number;
  /** Width of a band once its centre line is done, px; null before and for every other form. */
  readonly widthPx: number | null;
  readonly earlier: Draft | null;
}

/** What a tap would do besides setting a point: close the outline, start a branch, or nothing (on the last point). */
export type Snap =
  | { readonly kind: 'close' }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'branch'; readonly line: number; readonly after: number; readonly onSide: boolean };

/** Where the hand points, px, drawn to what it snaps to. */
export interface Aim {
  readonly at: PointPx;
  readonly snap: Snap | null;
}

/** Reaches for snapping as shares of the touch's reach: small, so that fine cracks can be followed without zooming far. */
const CLOSE_SHARE = 0.6;
const END_SHARE = 0.3;
const BRANCH_POINT_SHARE = 0.5;
const BRANCH_SIDE_SHARE = 0.35;
const BAND_LENGTH_PER_WIDTH = 8;

/** The form a draft will have. */
export function draftForm(draft: Draft): ShapeForm {
  return TOOL_MAKES[draft.tool].form;
}

/** An empty draft for a tool. */
export function emptyDraft(tool: DrawingTool): Draft {
  return { tool, lines: [[]], active: 0, widthPx: null, earlier: null };
}

function activeLine(draft: Draft): readonly PointPx[] {
  return must(draft.lines[draft.active], 'active line');
}

function branchSnap(draft: Draft, p: PointPx, reachPx: number): Aim | null {
  const reachAt = { point: reachPx * BRANCH_POINT_SHARE, side: reachPx * BRANCH_SIDE_SHARE };
  let best: (Aim & { away: number }) | null = null;
  draft.lines.forEach((points, line) => {
    points.forEach((at, after) => {
      const away = distancePx(p, at);
      const isEnd = line === draft.active && after === points.length - 1;
      if (isEnd || away > reachAt.point || (best !== null && away >= best.away)) return;
      best = { at, away, snap: { kind: 'branch', line, after, onSide: false } };
    });
  });
  if (best !== null) return best;
  draft.lines.forEach((points, line) => {
    segmentsOf(points, false).forEach(([a, b], after) => {
      const near = nearestOnSegment(p, a, b);
      if (near.distancePx > reachAt.side || (best !== null && near.distancePx >= best.away)) return;
      best = { at: near.at, away: near.distancePx, snap: { kind: 'branch', line, after, onSide: true } };
    });
  });
  return best;
}

/** What a touch at `p` aims at, px, given how far it reaches (px of the photo). */
export function aimAt(draft: Draft, p: PointPx, reachPx: number, frame: FramePx): Aim {
  const line = activeLine(draft);
  const first = line[0];
  const last = line[line.length - 1];
  const form = draftForm(draft);
  if (form === 'patch' && line.length >= 3 && first && distancePx(p, first) <= reachPx * CLOSE_SHARE) {
    return { at: first, snap: { kind: 'close' } };
  }
  if (last && distancePx(p, last) <= reachPx * END_SHARE) return { at: last, snap: { kind: 'nothing' } };
  const branch = form === 'trace' ? branchSnap(draft, p, reachPx) : null;
  if (branch !== null) return { at: keptPoint(branch.at, frame), snap: branch.snap };
  return { at: keptPoint(p, frame), snap: null };
}

function startBranch(draft: Draft, at: PointPx, snap: Snap & { kind: 'branch' }): Draft {
  let lines = draft.lines;
  if (snap.onSide) {
    lines = lines.map((points, index) =>
      index === snap.line ? points.toSpliced(snap.after + 1, 0, at) : points,
    );
  }
  // A branch that was begun and not drawn gives way to the new one.
  if (activeLine(draft).length < 2) lines = lines.toSpliced(draft.active, 1);
  return { ...draft, lines: [...lines, [at]], active: lines.length, earlier: draft };
}

/** The draft after a tap at an aim. A close or a tap on the last point leaves it as it is. */
export function placePoint(draft: Draft, aim: Aim): Draft {
  if (aim.snap?.kind === 'branch') return startBranch(draft, aim.at, aim.snap);
  if (aim.snap !== null) return draft;
  const lines = draft.lines.map((points, index) => (index === draft.active ? [...points, aim.at] : points));
  return { ...draft, lines, earlier: draft };
}

/** The draft with one of its points elsewhere, joined branches along; a step of its own when `earlier` is given. */
export function moveDraftPoint(draft: Draft, from: PointPx, to: PointPx, earlier: Draft): Draft {
  const moved = (p: PointPx): PointPx => (p[0] === from[0] && p[1] === from[1] ? to : p);
  return { ...draft, lines: draft.lines.map((points) => points.map(moved)), earlier };
}

/** Point of the draft nearest to `p` within a reach, px; null when none. */
export function draftPointUnder(draft: Draft, p: PointPx, reachPx: number): PointPx | null {
  let best: PointPx | null = null;
  let bestPx = reachPx * CLOSE_SHARE;
  for (const at of draft.lines.flat()) {
    const away = distancePx(at, p);
    if (away > bestPx) continue;
    best = at;
    bestPx = away;
  }
  return best;
}

/** Whether the form is whole without being told: both ends of a span, all three points of an angle, the place of a spot. */
export function isWhole(draft: Draft): boolean {
  const form = draftForm(draft);
  const count = activeLine(draft).length;
  return (
    (form === 'span' && count === 2) || (form === 'angle' && count === 3) || (form === 'spot' && count === 1)
  );
}

/** Whether the draft is a centre line that can be given a width next. */
export function awaitsWidth(draft: Draft): boolean {
  return draftForm(draft) === 'band' && draft.widthPx === null && activeLine(draft).length >= 2;
}

/** A band's draft gone over to its width: an eighth of its length to start with. */
export function beginWidth(draft: Draft): Draft {
  const widthPx = Math.max(2, Math.round(lineLengthPx(activeLine(draft)) / BAND_LENGTH_PER_WIDTH));
  return { ...draft, widthPx, earlier: draft };
}

/** A band's draft as wide as twice the distance of `p` from its centre line, px. */
export function widthTo(draft: Draft, p: PointPx): Draft {
  const away = segmentsOf(activeLine(draft), false).map(([a, b]) => nearestOnSegment(p, a, b).distancePx);
  return { ...draft, widthPx: 2 * Math.min(...away) };
}

/**
 * The shape a draft makes as it stands, or null while points (or the width of a band) are missing. The same draft gives
 * the same shape, so that what was worked out from it is found again.
 */
export const draftShape = remembered(shapeOf);

function shapeOf(draft: Draft): Shape | null {
  const form = draftForm(draft);
  const main = [...must(draft.lines[0], 'main line')];
  const [a, b, c] = main;
  switch (form) {
    case 'trace': {
      const branches = draft.lines.filter((points) => points.length >= 2).map((points) => [...points]);
      return main.length >= 2 ? { form, branches } : null;
    }
    case 'patch':
      return main.length >= 3 ? { form, outline: main } : null;
    case 'band':
      if (main.length < 2 || draft.widthPx === null) return null;
      return withWidth({ form, centreLine: main, widthPx: 1 }, draft.widthPx);
    case 'span':
      return a && b ? { form, ends: [a, b] } : null;
    case 'angle':
      return a && b && c ? { form, vertex: b, arms: [a, c] } : null;
    case 'spot':
      return a ? { form, at: a } : null;
    default:
      return assertNever(form);
  }
}
