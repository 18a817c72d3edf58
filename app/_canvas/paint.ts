import {
  type BoxPx,
  bandEdgesPx,
  boundsPx,
  type Handle,
  linesOf,
  type PointPx,
  type Shape,
} from '../../lib/marks/index.ts';
import { angleArc } from './angleArc.ts';
import { CASING, CASING_EXTRA_CSS, HANDLE_CHOSEN, HANDLE_LIGHT, type Look } from './looks.ts';
import type { OverlayLine } from './types.ts';

/** A shape made ready for drawing, once per shape. Coordinates in px of the photo. */
interface Prepared {
  readonly outline: Path2D;
  readonly area: Path2D | null;
  readonly box: BoxPx;
}

const prepared = new WeakMap<Shape, Prepared>();

function run(path: Path2D, points: readonly PointPx[], closed: boolean): void {
  points.forEach(([x, y], index) => {
    if (index === 0) path.moveTo(x, y);
    else path.lineTo(x, y);
  });
  if (closed) path.closePath();
}

function prepare(shape: Shape): Prepared {
  const known = prepared.get(shape);
  if (known) return known;
  const outline = new Path2D();
  let area: Path2D | null = null;
  if (shape.form === 'band') {
    const [left, right] = bandEdgesPx(shape);
    run(outline, left, false);
    run(outline, right, false);
    area = new Path2D();
    run(area, [...left, ...right.toReversed()], true);
  } else {
    for (const { points, closed } of linesOf(shape)) run(outline, points, closed);
    if (shape.form === 'patch') area = outline;
  }
  const made = { outline, area, box: boundsPx(shape) };
  prepared.set(shape, made);
  return made;
}

/** Box around a shape, px, computed once per shape. */
export function boxOf(shape: Shape): BoxPx {
  return prepare(shape).box;
}

/** How a shape stands out: at rest, selected, or proposed by a model. */
export type Stress = 'rest' | 'selected' | 'suggested';

/** Draws a shape; `ctx` draws in px of the photo at `scale` CSS px each, so that lines keep their width on the screen. */
export function paintShape(
  ctx: CanvasRenderingContext2D,
  shape: Shape,
  look: Look,
  scale: number,
  stress: Stress,
): void {
  const { outline, area } = prepare(shape);
  const wide = stress === 'selected' ? look.widthCss + 1 : stress === 'suggested' ? 1.5 : look.widthCss;
  const casing = wide + (stress === 'selected' ? CASING_EXTRA_CSS + 2.5 : CASING_EXTRA_CSS);
  if (shape.form === 'spot') {
    paintSpot(ctx, shape.at, look, scale, stress);
    return;
  }
  ctx.lineJoin = 'round';
  ctx.lineCap = 'round';
  if (area && look.fill && stress !== 'suggested') {
    ctx.fillStyle = look.fill;
    ctx.fill(area);
  }
  strokeTwice(ctx, outline, look, scale, wide, casing, stress);
  if (shape.form === 'span') paintSpanEnds(ctx, shape.ends, look, scale);
  if (shape.form === 'angle') {
    const arc = new Path2D();
    const { at, radiusPx, from, to, back } = angleArc(shape, scale);
    arc.arc(at[0], at[1], radiusPx, from, to, back);
    strokeTwice(ctx, arc, look, scale, 1.5, 1.5 + CASING_EXTRA_CSS, 'rest');
  }
}

function strokeTwice(
  ctx: CanvasRenderingContext2D,
  path: Path2D,
  look: Look,
  scale: number,
  wideCss: number,
  casingCss: number,
  stress: Stress,
): void {
  ctx.setLineDash([]);
  ctx.strokeStyle = CASING;
  ctx.lineWidth = casingCss / scale;
  ctx.stroke(path);
  ctx.strokeStyle = look.colour;
  ctx.lineWidth = wideCss / scale;
  const dash = stress === 'suggested' ? [2, 6] : look.dash;
  if (dash.length > 0) ctx.setLineDash(dash.map((length) => length / scale));
  ctx.stroke(path);
  ctx.setLineDash([]);
}

function paintSpot(
  ctx: CanvasRenderingContext2D,
  at: PointPx,
  look: Look,
  scale: number,
  stress: Stress,
): void {
  const ring = new Path2D();
  const radius = (stress === 'selected' ? 11 : 8) / scale;
  ring.arc(at[0], at[1], radius, 0, 2 * Math.PI);
  const dot = new Path2D();
  dot.arc(at[0], at[1], 1.6 / scale, 0, 2 * Math.PI);
  strokeTwice(ctx, ring, look, scale, 2.5, 6, stress);
  ctx.fillStyle = CASING;
  ctx.lineWidth = 2 / scale;
  ctx.strokeStyle = CASING;
  ctx.stroke(dot);
  ctx.fillStyle = look.colour;
  ctx.fill(dot);
}

function paintSpanEnds(
  ctx: CanvasRenderingContext2D,
  ends: readonly [PointPx, PointPx],
  look: Look,
  scale: number,
): void {
  const [a, b] = ends;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const nx = ((-(b[1] - a[1]) / length) * 9) / scale;
  const ny = (((b[0] - a[0]) / length) * 9) / scale;
  const bars = new Path2D();
  for (const [x, y] of ends) {
    bars.moveTo(x - nx, y - ny);
    bars.lineTo(x + nx, y + ny);
  }
  strokeTwice(ctx, bars, look, scale, look.widthCss, look.widthCss + CASING_EXTRA_CSS, 'rest');
}

/** Draws a ring to take hold of, hollow so that the place under it shows; `radiusCss` in CSS px. */
export function paintRing(
  ctx: CanvasRenderingContext2D,
  at: PointPx,
  radiusCss: number,
  colour: string,
  scale: number,
): void {
  const ring = new Path2D();
  ring.arc(at[0], at[1], radiusCss / scale, 0, 2 * Math.PI);
  ctx.strokeStyle = CASING;
  ctx.lineWidth = 5 / scale;
  ctx.stroke(ring);
  ctx.strokeStyle = colour;
  ctx.lineWidth = 2.5 / scale;
  ctx.stroke(ring);
}

/** Draws a cross of two thin lines with a gap in its middle, so that the very place stays in sight. */
export function paintCross(
  ctx: CanvasRenderingContext2D,
  at: PointPx,
  armCss: number,
  gapCss: number,
  colour: string,
  scale: number,
): void {
  const cross = new Path2D();
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    cross.moveTo(at[0] + (dx * gapCss) / scale, at[1] + (dy * gapCss) / scale);
    cross.lineTo(at[0] + (dx * armCss) / scale, at[1] + (dy * armCss) / scale);
  }
  ctx.lineCap = 'butt';
  ctx.strokeStyle = CASING;
  ctx.lineWidth = 3.5 / scale;
  ctx.stroke(cross);
  ctx.strokeStyle = colour;
  ctx.lineWidth = 1.5 / scale;
  ctx.stroke(cross);
}

/** Draws the handle of a selected shape; `radiusCss` is that of a point's ring, in CSS px. */
export function paintHandle(
  ctx: CanvasRenderingContext2D,
  handle: Handle,
  chosen: boolean,
  radiusCss: number,
  scale: number,
): void {
  if (handle.kind === 'point') {
    if (chosen) {
      ctx.fillStyle = 'rgba(255, 212, 0, 0.28)';
      ctx.beginPath();
      ctx.arc(handle.at[0], handle.at[1], radiusCss / scale, 0, 2 * Math.PI);
      ctx.fill();
    }
    paintRing(ctx, handle.at, radiusCss, chosen ? HANDLE_CHOSEN : HANDLE_LIGHT, scale);
    return;
  }
  const small = Math.min(8, radiusCss);
  ctx.fillStyle = CASING;
  ctx.beginPath();
  ctx.arc(handle.at[0], handle.at[1], (small + 2) / scale, 0, 2 * Math.PI);
  ctx.fill();
  if (handle.kind === 'insert') paintCross(ctx, handle.at, small - 1, 0, HANDLE_LIGHT, scale);
  else paintRing(ctx, handle.at, small - 2, HANDLE_CHOSEN, scale);
}

const OVERLAY_COLOUR = 'rgba(150, 235, 255, 0.75)';
const OVERLAY_CASING = 'rgba(8, 10, 12, 0.45)';

/** Thin lines over the photo: light over a dark casing, so that they show on bright and on dark metal. */
export function paintOverlay(
  pen: CanvasRenderingContext2D,
  lines: readonly OverlayLine[],
  scale: number,
): void {
  if (lines.length === 0) return;
  pen.setLineDash([]);
  for (const strong of [false, true]) {
    const path = new Path2D();
    for (const { points } of lines.filter((line) => line.strong === strong)) {
      points.forEach(([x, y], i) => {
        if (i === 0) path.moveTo(x, y);
        else path.lineTo(x, y);
      });
    }
    const widthCss = strong ? 1.6 : 0.8;
    pen.strokeStyle = OVERLAY_CASING;
    pen.lineWidth = (widthCss + 1.4) / scale;
    pen.stroke(path);
    pen.strokeStyle = OVERLAY_COLOUR;
    pen.lineWidth = widthCss / scale;
    pen.stroke(path);
  }
}
