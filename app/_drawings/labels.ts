import { showNumber } from '../../lib/units/index.ts';
import type { Point, Section, SectionPart } from '../../lib/wheel/index.ts';
import { ABOVE_PX, type Sheet, shows, toPx, type View } from './views.ts';

/** A text on the sheet: its middle, its baseline and its width. px. */
export interface Label {
  readonly text: string;
  readonly middle: number;
  readonly baseline: number;
  readonly width: number;
}

/** The name of a part and the place of the metal that its leader ends at. */
export interface NameLabel extends Label {
  readonly at: Point;
  readonly row: Row;
}

type Row = 'above' | 'seat' | 'below';

const NAME_Y = 16;
/** Height of the line of the width, below the top of a view. */
export const WIDTH_LINE_Y = 40;
/** Distance of the height's line from the flange face. */
export const HEIGHT_LINE_X = 34;
/** Two lines of figures and a line's distance, below the flange's top. */
const HEIGHT_FIGURES_PX = 48;
const SHEET_EDGE = 8;
const NAMES_APART = 10;

/** Width of a text set at 13 px in a common sans-serif face, px: a rough measure, on the wide side. */
function textWidth(text: string): number {
  return text.length * 7.4;
}

/** A length in both units, as they stand on stamps and on tapes. */
export function bothUnits(lengthMm: number): string {
  return `${showNumber(lengthMm, 1)} mm / ${showNumber(lengthMm / 25.4, 2)} in`;
}

/** A piece of text in a row: where its middle would like to be, and how wide it is. px. */
export interface RowWish {
  readonly middle: number;
  readonly width: number;
}

/**
 * Middles of texts in one row, in the order given, at least `gap` apart and inside the bounds where they fit.
 * The order is kept, so that straight leader lines to things in the same order never cross.
 */
export function placeRow(wishes: readonly RowWish[], from: number, to: number, gap: number): number[] {
  const lefts: number[] = [];
  let free = from;
  for (const { middle, width } of wishes) {
    const left = Math.max(free, middle - width / 2);
    lefts.push(left);
    free = left + width + gap;
  }
  let limit = to;
  for (let index = wishes.length - 1; index >= 0; index -= 1) {
    const width = wishes[index]?.width ?? 0;
    const left = Math.min(lefts[index] ?? 0, limit - width);
    lefts[index] = left;
    limit = left - gap;
  }
  return wishes.map(({ width }, index) => (lefts[index] ?? 0) + width / 2);
}

/** Where a part's name wants to stand: over the metal, in the room for the tyre, or under it. */
function rowOf(part: SectionPart): Row {
  if (part.kind === 'side flange') return 'above';
  return part.kind === 'bead seat band' ? 'seat' : 'below';
}

/** The point of a part that its name points at in a view; null when the view does not show or need it. */
function namedIn(part: SectionPart, section: Section, view: View, sheet: Sheet): Point | null {
  if (shows(view, part.namedAt)) return part.namedAt;
  const besideTheOther = sheet.views.some((other) => other !== view && other.top === view.top);
  if (part.kind !== 'rim base' || besideTheOther) return null;
  return [view.to - (view.to - section.backFaceX) * 0.06, part.namedAt[1]];
}

/** Names of the parts of a view, each row without overlaps. */
export function nameLabels(section: Section, view: View, sheet: Sheet): NameLabel[] {
  const named = section.parts
    .flatMap((part) => {
      const point = namedIn(part, section, view, sheet);
      return point === null ? [] : [{ text: part.slot, at: toPx(view, point), row: rowOf(part) }];
    })
    .sort((a, b) => a.at[0] - b.at[0]);
  const baselines: Readonly<Record<Row, number>> = {
    above: view.top + NAME_Y,
    // Under the figures of the flange height, where the flange is low.
    seat: Math.max(toPx(view, [0, section.seatY])[1] - 34, view.top + ABOVE_PX + HEIGHT_FIGURES_PX),
    below: view.top + view.height - 10,
  };
  const from = view.cutAt === 'left' ? view.left : SHEET_EDGE;
  const to = view.cutAt === 'right' ? view.left + view.width : sheet.width - SHEET_EDGE;
  return (['above', 'seat', 'below'] as const).flatMap((row) => {
    const inRow = named.filter((one) => one.row === row);
    const middles = placeRow(
      inRow.map(({ text, at }) => ({ middle: at[0], width: textWidth(text) })),
      row === 'seat' ? Math.max(from, toPx(view, [section.backFaceX, 0])[0] + 14) : from,
      row === 'seat' ? Math.min(to, toPx(view, [section.gutterFaceX, 0])[0] - HEIGHT_LINE_X - 8) : to,
      NAMES_APART,
    );
    return inRow.map((one, index) => ({
      ...one,
      middle: middles[index] ?? one.at[0],
      baseline: baselines[row],
      width: textWidth(one.text),
    }));
  });
}

/** The figures of the width; null beside the gutter side's view, which says it already. */
export function widthLabel(section: Section, view: View, sheet: Sheet): Label | null {
  const says =
    view.name !== 'back side' || sheet.views.every((other) => other === view || other.top !== view.top);
  if (!says) return null;
  const text = `${bothUnits(section.widthMm)}${section.assumed.includes('width') ? ' assumed' : ''}`;
  const [backX] = toPx(view, [Math.max(section.backFaceX, view.from), 0]);
  const [gutterX] = toPx(view, [Math.min(section.gutterFaceX, view.to), 0]);
  return {
    text,
    middle: (backX + gutterX) / 2,
    baseline: view.top + WIDTH_LINE_Y + 5,
    width: textWidth(text),
  };
}

/** The two lines of the flange height, inboard of its line; none where the gutter side's flange is not shown. */
export function heightLabels(section: Section, view: View): Label[] {
  if (view.name === 'back side') return [];
  const [faceX] = toPx(view, [section.gutterFaceX, 0]);
  const assumed = section.assumed.includes('flange height') ? ' assumed' : '';
  const inches = showNumber(section.flangeHeightMm / 25.4, 2);
  return [`${showNumber(section.flangeHeightMm, 1)} mm`, `${inches} in${assumed}`].map((text, index) => {
    const width = textWidth(text);
    return {
      text,
      width,
      middle: faceX - HEIGHT_LINE_X - 8 - width / 2,
      baseline: view.top + ABOVE_PX + 17 + index * 16,
    };
  });
}
