import type { Point, Section } from '../../lib/wheel/index.ts';

/** One window on the section: which stretch of it, and where it lies on the sheet. CSS px and mm. */
export interface View {
  readonly name: 'whole' | 'back side' | 'gutter side';
  readonly from: number;
  readonly to: number;
  /** Which ends are cut by a break line. */
  readonly cutAt: 'left' | 'right' | null;
  readonly scale: number;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** Height in the sheet of the section's highest point. */
  readonly highY: number;
  readonly highMm: number;
}

export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly scale: number;
  readonly views: readonly View[];
}

/** From this width on the section is drawn whole; below `STACK_BELOW` its ends stand one above the other. */
const WHOLE_FROM_PX = 860;
const STACK_BELOW_PX = 600;

/** Rows above the metal: names, then the width; below it: names, and under the last view the scale. */
export const ABOVE_PX = 62;
const BELOW_PX = 60;
const SCALE_ROW_PX = 30;
/** Room beside the metal, for the marks of its outermost zones. */
export const SIDE_PX = 20;
const GAP_PX = 14;
const SCALE_MAX = 2.6;

/** Lays the section out for a width: all views have the same scale, so that sizes can be compared by eye. */
export function sheetFor(section: Section, widthPx: number): Sheet {
  const { left, right, high, low } = section.bounds;
  const middle = (section.plainFrom + section.plainTo) / 2;
  const backTo = Math.min(section.plainFrom * 1.1, middle);
  const gutterFrom = Math.max(section.plainTo - section.plainFrom * 0.1, middle);
  const inner = widthPx - 2 * SIDE_PX;
  const whole = widthPx >= WHOLE_FROM_PX;
  const stacked = widthPx < STACK_BELOW_PX;
  const backMm = backTo - left;
  const gutterMm = right - gutterFrom;
  const fitted = whole
    ? inner / (right - left)
    : stacked
      ? inner / Math.max(backMm, gutterMm)
      : (inner - GAP_PX) / (backMm + gutterMm);
  const scale = Math.min(fitted, SCALE_MAX);
  const height = (high - low) * scale + ABOVE_PX + BELOW_PX;
  const make = (name: View['name'], from: number, to: number, x: number, y: number): View => ({
    name,
    from,
    to,
    cutAt: name === 'whole' ? null : name === 'back side' ? 'right' : 'left',
    scale,
    left: x,
    top: y,
    width: (to - from) * scale,
    height,
    highY: y + ABOVE_PX,
    highMm: high,
  });
  if (whole) {
    const views = [make('whole', left, right, (widthPx - (right - left) * scale) / 2, 0)];
    return { width: widthPx, height: height + SCALE_ROW_PX, scale, views };
  }
  const gutterX = widthPx - SIDE_PX - gutterMm * scale;
  // On the narrow sheet the gutter side comes first: it has the most zones.
  const views = stacked
    ? [
        make('gutter side', gutterFrom, right, gutterX, 0),
        make('back side', left, backTo, SIDE_PX, height + GAP_PX),
      ]
    : [make('back side', left, backTo, SIDE_PX, 0), make('gutter side', gutterFrom, right, gutterX, 0)];
  return {
    width: widthPx,
    height: (stacked ? 2 * height + GAP_PX : height) + SCALE_ROW_PX,
    scale,
    views,
  };
}

/** Where a point of the section lies on the sheet, px. */
export function toPx(view: View, [x, y]: Point): Point {
  return [view.left + (x - view.from) * view.scale, view.highY + (view.highMm - y) * view.scale];
}

/** Which point of the section lies under a place on the sheet, mm. */
export function toMm(view: View, [x, y]: Point): Point {
  return [view.from + (x - view.left) / view.scale, view.highMm - (y - view.highY) / view.scale];
}

/** The view at a place of the sheet, or the one nearest to it. */
export function viewAt(sheet: Sheet, [x, y]: Point): View {
  const away = (view: View) =>
    Math.max(view.left - x, x - view.left - view.width, 0) +
    Math.max(view.top - y, y - view.top - view.height, 0);
  return sheet.views.reduce((best, view) => (away(view) < away(best) ? view : best));
}

/** Whether a point of the section shows in a view. */
export function shows(view: View, [x]: Point): boolean {
  return x >= view.from && x <= view.to;
}
