import { type CardLayout, type CardName, cardLayout } from './card.ts';
import type { Point } from './homography.ts';

/** Papers the scale cards can be printed on: ISO 216 A4, ANSI Letter, and one page of the size of an ID-1 card. */
export const cardPapers = ['A4', 'Letter', 'wallet'] as const;
export type CardPaper = (typeof cardPapers)[number];

/** A page with cards on it, mm from its top left corner. */
export interface CardSheet {
  readonly paper: CardPaper;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly cards: readonly { readonly layout: CardLayout; readonly leftMm: number; readonly topMm: number }[];
  /** Outlines to cut along; none where the page is the card. */
  readonly cuts: readonly { readonly from: Point; readonly to: Point }[];
  /** Lines of text beside the cards, from `at` on the base line to the right. */
  readonly notes: readonly { readonly at: Point; readonly text: string; readonly sizeMm: number }[];
}

/** ISO 216; ASME Y14.1 (8 1/2 × 11 in); ISO/IEC 7810 ID-1. */
const SIZES: Readonly<Record<CardPaper, readonly [widthMm: number, heightMm: number]>> = {
  A4: [210, 297],
  Letter: [215.9, 279.4],
  wallet: [85.6, 53.98],
};

/** How far a cut line goes on beyond the corners of a card, mm: enough to lay a ruler on. */
const BEYOND_MM = 4;
/** First card below the top of the page and distances between cards, mm; printers leave at most about 10 mm free. */
const TOP_MM = 46;
const GAP_MM = 14;

const NOTES: readonly string[] = [
  'Scale cards. Print at 100 %: no “fit to page”.',
  'Glue to something flat and stiff, then cut along the lines.',
  'Measure each millimetre ruler with a steel rule and enter what it measures.',
];

/** Pages and places of the cards: on A4 and Letter the rim card and two pocket cards, else the pocket card alone. */
export function cardSheet(paper: CardPaper): CardSheet {
  const [widthMm, heightMm] = SIZES[paper];
  if (paper === 'wallet') {
    const cards = [{ layout: cardLayout('pocket card'), leftMm: 0, topMm: 0 }];
    return { paper, widthMm, heightMm, cards, cuts: [], notes: [] };
  }
  const [rim, pocket] = (['rim card', 'pocket card'] as const satisfies CardName[]).map(cardLayout) as [
    CardLayout,
    CardLayout,
  ];
  const pocketLeftMm = (widthMm - 2 * pocket.widthMm - GAP_MM) / 2;
  const pocketTopMm = TOP_MM + rim.heightMm + GAP_MM;
  const cards = [
    { layout: rim, leftMm: (widthMm - rim.widthMm) / 2, topMm: TOP_MM },
    { layout: pocket, leftMm: pocketLeftMm, topMm: pocketTopMm },
    { layout: pocket, leftMm: pocketLeftMm + pocket.widthMm + GAP_MM, topMm: pocketTopMm },
  ];
  return {
    paper,
    widthMm,
    heightMm,
    cards,
    cuts: cards.flatMap(cutsRound),
    notes: NOTES.map((text, i) => ({
      at: [cards[0]?.leftMm ?? 0, 18 + 7 * i],
      text,
      sizeMm: i === 0 ? 5 : 4,
    })),
  };
}

function cutsRound({ layout, leftMm, topMm }: CardSheet['cards'][number]): CardSheet['cuts'][number][] {
  const [right, bottom] = [leftMm + layout.widthMm, topMm + layout.heightMm];
  return [
    ...[topMm, bottom].map((y): { from: Point; to: Point } => ({
      from: [leftMm - BEYOND_MM, y],
      to: [right + BEYOND_MM, y],
    })),
    ...[leftMm, right].map((x): { from: Point; to: Point } => ({
      from: [x, topMm - BEYOND_MM],
      to: [x, bottom + BEYOND_MM],
    })),
  ];
}
