import type { BoxPx, FramePx, PointPx } from '../../lib/marks/index.ts';

/** Where the photo stands on the screen: screen = place × scale + (x, y), screen in CSS px, place in px of the photo. */
export interface View {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

/** Size of the window onto the photo, CSS px. */
export interface Port {
  readonly width: number;
  readonly height: number;
}

/** Most CSS px per px of the photo: single pixels are large enough to count. */
export const SCALE_MAX = 32;
/** Above this scale pixels are shown as squares, not smoothed: what is seen is what was recorded. */
export const SMOOTH_SCALE_MAX = 4;
/** Share of the window that may lie beyond an edge of an enlarged photo, so that a corner can be worked on. */
const BEYOND_SHARE = 0.3;
const MARK_SHARE = 0.6;
const MARK_SCALE_MAX = 8;

/** Smallest scale allowed: the whole photo in the window, never larger than life. */
function scaleMin(frame: FramePx, port: Port): number {
  return Math.min(port.width / frame.widthPx, port.height / frame.heightPx, 1);
}

function heldEdge(at: number, sizeOnScreen: number, portSize: number): number {
  if (sizeOnScreen <= portSize) return (portSize - sizeOnScreen) / 2;
  const beyond = Math.min(portSize * BEYOND_SHARE, sizeOnScreen - portSize);
  return Math.min(beyond, Math.max(portSize - sizeOnScreen - beyond, at));
}

/** The view brought within its limits of scale and place: the photo can never be lost from the window. */
export function heldView(view: View, frame: FramePx, port: Port): View {
  const low = scaleMin(frame, port);
  const scale = Math.min(SCALE_MAX, Math.max(low, view.scale));
  const half = scale / 2;
  return {
    scale,
    x: heldEdge(view.x - half, frame.widthPx * scale, port.width) + half,
    y: heldEdge(view.y - half, frame.heightPx * scale, port.height) + half,
  };
}

/** The whole photo in the middle of the window. */
export function fitView(frame: FramePx, port: Port): View {
  return heldView({ scale: scaleMin(frame, port), x: 0, y: 0 }, frame, port);
}

/** The view at another scale with the place under `at` (CSS px) kept under it, within the limits. */
export function zoomedAt(view: View, scale: number, at: PointPx, frame: FramePx, port: Port): View {
  const held = Math.min(SCALE_MAX, Math.max(scaleMin(frame, port), scale));
  const ratio = held / view.scale;
  return heldView(
    { scale: held, x: at[0] - (at[0] - view.x) * ratio, y: at[1] - (at[1] - view.y) * ratio },
    frame,
    port,
  );
}

/** The view shifted by CSS px, within the limits. */
export function pannedBy(view: View, dx: number, dy: number, frame: FramePx, port: Port): View {
  return heldView({ ...view, x: view.x + dx, y: view.y + dy }, frame, port);
}

/** The view after the window changed its size: the same scale, and the same place in the middle. */
export function resizedView(view: View, before: Port, after: Port, frame: FramePx): View {
  const dx = (after.width - before.width) / 2;
  const dy = (after.height - before.height) / 2;
  return heldView({ scale: view.scale, x: view.x + dx, y: view.y + dy }, frame, after);
}

/** A view with a box of the photo in the middle, filling part of the window, at most 8-fold. */
export function viewOfBox(box: BoxPx, frame: FramePx, port: Port): View {
  const widthPx = Math.max(1, box.right - box.left);
  const heightPx = Math.max(1, box.bottom - box.top);
  const wanted = Math.min((port.width * MARK_SHARE) / widthPx, (port.height * MARK_SHARE) / heightPx);
  const scale = Math.max(scaleMin(frame, port), Math.min(MARK_SCALE_MAX, wanted));
  const x = port.width / 2 - ((box.left + box.right) / 2) * scale;
  const y = port.height / 2 - ((box.top + box.bottom) / 2) * scale;
  return heldView({ scale, x, y }, frame, port);
}

/** The place of the photo (px) under a point of the screen (CSS px from the window's corner). */
export function toPhoto(view: View, at: PointPx): PointPx {
  return [(at[0] - view.x) / view.scale, (at[1] - view.y) / view.scale];
}

/** The part of the photo's plane seen through the window, px, grown by `marginCssPx` on each side. */
export function seenBox(view: View, port: Port, marginCssPx: number): BoxPx {
  const [left, top] = toPhoto(view, [-marginCssPx, -marginCssPx]);
  const [right, bottom] = toPhoto(view, [port.width + marginCssPx, port.height + marginCssPx]);
  return { left, top, right, bottom };
}

/** Centre (CSS px from the window's corner) of a loupe for a finger: above it, beside it near the top edge. */
export function loupePlace(finger: PointPx, port: Port, diameter: number): PointPx {
  const radius = diameter / 2;
  const away = radius + 60;
  const hold = (value: number, high: number): number =>
    Math.min(Math.max(value, radius + 4), Math.max(radius + 4, high - radius - 4));
  if (finger[1] - away - radius >= 4) return [hold(finger[0], port.width), finger[1] - away];
  const side = finger[0] > port.width / 2 ? -1 : 1;
  return [hold(finger[0] + side * away, port.width), hold(finger[1] - away, port.height)];
}
