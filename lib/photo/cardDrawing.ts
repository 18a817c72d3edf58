import { MM_PER_UNIT } from '../units/index.ts';
import { type CardBox, type CardLayout, type CardMarker, type CardRuler, markerCells } from './card.ts';
import type { Point } from './homography.ts';

/** Paper white, printing black, and the neutral grey of the patch. */
export type CardShade = 'white' | 'black' | 'grey';

/**
 * Neutral grey of 18 % reflectance as an sRGB value between 0 and 1: IEC 61966-2-1 turns a linear 0.18 into
 * 1.055 · 0.18^(1/2.4) − 0.055.
 */
export const GREY_SRGB = 1.055 * 0.18 ** (1 / 2.4) - 0.055;

/** A filled rectangle without an outline, mm. */
export interface DrawnBox extends CardBox {
  readonly shade: CardShade;
}

/** A straight black line of butt ends, mm. */
export interface DrawnLine {
  readonly from: Point;
  readonly to: Point;
  readonly widthMm: number;
}

/** One line of text in a plain sans-serif, its middle above `at`, which lies on the base line, mm. */
export interface DrawnText {
  readonly at: Point;
  readonly text: string;
  /** Font size (the em), mm. */
  readonly sizeMm: number;
  readonly bold: boolean;
}

/** Everything that is printed on a card; boxes first and in their order, then lines, then texts. */
export interface CardDrawing {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly boxes: readonly DrawnBox[];
  readonly lines: readonly DrawnLine[];
  readonly texts: readonly DrawnText[];
}

/** Cells along a side of a marker, its black border included: four and a border at either end. */
const CELLS_ACROSS = 6;

/** Side of one cell of a marker, mm. */
export function cellSideMm(marker: CardMarker): number {
  return marker.sideMm / CELLS_ACROSS;
}

/** Starts and lengths of the runs of true. */
function runs(cells: readonly boolean[]): { start: number; length: number }[] {
  const found: { start: number; length: number }[] = [];
  cells.forEach((white, i) => {
    const last = found.at(-1);
    if (!white) return;
    if (last !== undefined && last.start + last.length === i) last.length += 1;
    else found.push({ start: i, length: 1 });
  });
  return found;
}

/**
 * A marker as a black square with white on it. The white is drawn in whole runs, along the rows and along the columns:
 * between single cells a printer or a screen would let the black below show as a hairline.
 */
function markerBoxes(marker: CardMarker): DrawnBox[] {
  const { leftMm, topMm, sideMm } = marker;
  const cell = cellSideMm(marker);
  const rows = markerCells(marker.id);
  const white = (column: number, row: number, wide: number, high: number): DrawnBox => ({
    leftMm: leftMm + (column + 1) * cell,
    topMm: topMm + (row + 1) * cell,
    widthMm: wide * cell,
    heightMm: high * cell,
    shade: 'white',
  });
  const columns = rows.map((_, column) => rows.map((row) => row[column] === true));
  return [
    { leftMm, topMm, widthMm: sideMm, heightMm: sideMm, shade: 'black' },
    ...rows.flatMap((row, y) => runs(row).map(({ start, length }) => white(start, y, length, 1))),
    ...columns.flatMap((column, x) =>
      runs(column)
        .filter(({ length }) => length > 1)
        .map(({ start, length }) => white(x, start, 1, length)),
    ),
  ];
}

/** One tick of a ruler: how far from its start, mm, how long, and the number below it, where there is one. */
export interface RulerTick {
  readonly alongMm: number;
  readonly share: number;
  readonly number: string | null;
}

/** Parts that a unit of a ruler is divided into: millimetres not at all, inches into sixteenths. */
const PARTS: Readonly<Record<CardRuler['unit'], number>> = { mm: 1, in: 16 };

/** Length of a ruler from the middle of its first tick to the middle of its last, mm. */
export function rulerLengthMm({ unit, length }: CardRuler): number {
  return length * MM_PER_UNIT[unit];
}

/** All ticks of a ruler; the share is of its longest ticks. */
export function rulerTicks(ruler: CardRuler): RulerTick[] {
  const count = ruler.length * PARTS[ruler.unit];
  const share = ruler.unit === 'mm' ? millimetreShare : sixteenthShare;
  return Array.from({ length: count + 1 }, (_, i) => {
    const long = share(i) === 1;
    return {
      alongMm: (rulerLengthMm(ruler) * i) / count,
      share: share(i),
      number: long ? String(i / PARTS[ruler.unit]) : null,
    };
  });
}

const millimetreShare = (i: number) => (i % 10 === 0 ? 1 : i % 5 === 0 ? 0.75 : 0.5);
const sixteenthShare = (i: number) =>
  [16, 8, 4, 2].reduce((share, step, k) => (share === 0 && i % step === 0 ? 1 - 0.17 * k : share), 0) || 0.35;

/** Sizes of what is drawn beside the markers, mm; our own choice, readable at arm’s length. */
interface Sizes {
  readonly tickMm: number;
  readonly tickWidthMm: number;
  readonly numberMm: number;
}

function rulerParts(ruler: CardRuler, sizes: Sizes): { lines: DrawnLine[]; texts: DrawnText[] } {
  const { leftMm, topMm, unit } = ruler;
  const ticks = rulerTicks(ruler);
  const numbersMm = topMm + sizes.tickMm + sizes.numberMm;
  const numbered = ticks.filter((tick) => tick.number !== null);
  const text = (alongMm: number, words: string): DrawnText => ({
    at: [leftMm + alongMm, numbersMm],
    text: words,
    sizeMm: sizes.numberMm,
    bold: false,
  });
  const half = sizes.tickWidthMm / 2;
  return {
    lines: [
      // As long as the ticks at its ends are wide, so that the corners close.
      {
        from: [leftMm - half, topMm],
        to: [leftMm + rulerLengthMm(ruler) + half, topMm],
        widthMm: sizes.tickWidthMm,
      },
      ...ticks.map(
        ({ alongMm, share }): DrawnLine => ({
          from: [leftMm + alongMm, topMm],
          to: [leftMm + alongMm, topMm + sizes.tickMm * share],
          widthMm: sizes.tickWidthMm,
        }),
      ),
    ],
    texts: [
      ...numbered.map(({ alongMm, number }) => text(alongMm, number ?? '')),
      // The unit stands between the first two numbers.
      text((numbered[1]?.alongMm ?? 0) / 2, unit),
    ],
  };
}

interface Words {
  readonly sizes: Sizes;
  /** Where the lines of text stand, mm below the top of the card, and their sizes. */
  readonly lines: readonly { readonly topMm: number; readonly sizeMm: number; readonly text: string }[];
}

const PRINT_LINE = 'Print at 100 %, then measure the ruler';

/** What is written on each card, and where. */
const WORDS: Readonly<Record<CardLayout['name'], Words>> = {
  'rim card': {
    sizes: { tickMm: 4, tickWidthMm: 0.15, numberMm: 2.8 },
    lines: [
      { topMm: 19, sizeMm: 5, text: 'Rimbook rim card' },
      { topMm: 26, sizeMm: 3.2, text: 'This edge towards the gutter, long side round the rim' },
      { topMm: 64.5, sizeMm: 2.8, text: 'Grey, 18 %' },
      { topMm: 82, sizeMm: 3.2, text: PRINT_LINE },
    ],
  },
  'pocket card': {
    sizes: { tickMm: 2.6, tickWidthMm: 0.12, numberMm: 2.2 },
    lines: [
      { topMm: 12, sizeMm: 2.8, text: 'Rimbook pocket card' },
      { topMm: 15.6, sizeMm: 2.2, text: 'This edge towards the gutter,' },
      { topMm: 18.6, sizeMm: 2.2, text: 'long side round the rim' },
      { topMm: 34.8, sizeMm: 2.2, text: 'Grey, 18 %' },
      { topMm: 42, sizeMm: 2.2, text: PRINT_LINE },
    ],
  },
};

/**
 * What is printed on a card, mm from its top left corner: markers, rulers, grey patch, its name and how it is laid.
 * The printable page and the picture on screen are both drawn from this. The paper itself is white.
 */
export function drawingOf(layout: CardLayout): CardDrawing {
  const { sizes, lines } = WORDS[layout.name];
  const rulers = layout.rulers.map((ruler) => rulerParts(ruler, sizes));
  return {
    widthMm: layout.widthMm,
    heightMm: layout.heightMm,
    boxes: [...layout.markers.flatMap(markerBoxes), { ...layout.grey, shade: 'grey' }],
    lines: rulers.flatMap((ruler) => ruler.lines),
    texts: [
      ...rulers.flatMap((ruler) => ruler.texts),
      ...lines.map(
        ({ topMm, sizeMm, text }, i): DrawnText => ({
          at: [layout.widthMm / 2, topMm],
          text,
          sizeMm,
          bold: i === 0,
        }),
      ),
    ],
  };
}
