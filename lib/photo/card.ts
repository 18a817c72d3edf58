import { must } from '../base/index.ts';

/**
 * Layouts of the scale card: where its markers, its check rulers and its grey patch are. Millimetres on the card,
 * origin at the top left corner of the card, x to the right, y down, as printed at true size. Everything that draws a
 * card (the printable page, the rendered sample pictures) or looks for one (detection) takes its numbers from here.
 */
export interface CardLayout {
  readonly name: CardName;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly markers: readonly CardMarker[];
  /** Check rulers: the user lays a rule on the print and records what a ruler truly measures. */
  readonly rulers: readonly CardRuler[];
  /** Patch of neutral grey, 18 % reflectance, for exposure and white balance. */
  readonly grey: CardBox;
}

export type CardName = 'rim card' | 'pocket card';

/** A square ArUco marker of dictionary 4x4_50: four by four cells inside a black border one cell wide. */
export interface CardMarker {
  readonly id: number;
  /** Top left corner of the black border. */
  readonly leftMm: number;
  readonly topMm: number;
  /** Side of the black border. */
  readonly sideMm: number;
}

/** A ruler with a tick at every unit, from its start to its end. */
export interface CardRuler {
  readonly unit: 'mm' | 'in';
  readonly leftMm: number;
  readonly topMm: number;
  /** Length in the ruler's own unit. */
  readonly length: number;
}

export interface CardBox {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * Cells of markers 0 … 7 of ArUco dictionary 4x4_50, row by row from the top left, 1 = white. Source: the predefined
 * dictionary DICT_4X4_50 of OpenCV (Apache 2.0).
 */
const CELLS: readonly string[] = [
  '1011010100110010',
  '0000111110011010',
  '0011001100101101',
  '1001100101000110',
  '0101010010011110',
  '0111100111001101',
  '1001111000101110',
  '1100010011110010',
];

/** Markers in the four corners of a card, clockwise from the top left, ids in that order. */
function inCorners(
  card: Pick<CardLayout, 'widthMm' | 'heightMm'>,
  firstId: number,
  sideMm: number,
  marginMm: number,
): CardMarker[] {
  const right = card.widthMm - marginMm - sideMm;
  const bottom = card.heightMm - marginMm - sideMm;
  const places = [
    [marginMm, marginMm],
    [right, marginMm],
    [right, bottom],
    [marginMm, bottom],
  ] as const;
  return places.map(([leftMm, topMm], index) => ({ id: firstId + index, leftMm, topMm, sideMm }));
}

const RIM_CARD = { widthMm: 160, heightMm: 100 } as const;
/** ID-1 format of ISO/IEC 7810, fits a wallet. */
const POCKET_CARD = { widthMm: 85.6, heightMm: 53.98 } as const;

/** All cards. Each has markers of its own, so that the ids say which card is in the picture. */
export const cardLayouts: readonly CardLayout[] = [
  {
    name: 'rim card',
    ...RIM_CARD,
    markers: inCorners(RIM_CARD, 0, 24, 6),
    rulers: [
      { unit: 'mm', leftMm: 40, topMm: 90, length: 80 },
      { unit: 'in', leftMm: 41.9, topMm: 4, length: 3 },
    ],
    grey: { leftMm: 70, topMm: 40, widthMm: 20, heightMm: 20 },
  },
  {
    name: 'pocket card',
    ...POCKET_CARD,
    markers: inCorners(POCKET_CARD, 4, 14, 4),
    rulers: [
      { unit: 'mm', leftMm: 22.8, topMm: 46, length: 40 },
      { unit: 'in', leftMm: 30.1, topMm: 3, length: 1 },
    ],
    grey: { leftMm: 37.8, topMm: 22, widthMm: 10, heightMm: 10 },
  },
];

/** The layout of this name. */
export function cardLayout(name: CardName): CardLayout {
  return must(
    cardLayouts.find((card) => card.name === name),
    `card ${name}`,
  );
}

/** Cells of a marker, row by row; true = white. Only markers that a card carries are known. */
export function markerCells(id: number): readonly (readonly boolean[])[] {
  const cells = must(CELLS[id], `marker ${id}`);
  return [0, 4, 8, 12].map((row) => [...cells.slice(row, row + 4)].map((cell) => cell === '1'));
}

/** Corners of a marker's black border on the card, clockwise from the top left, mm. */
export function markerCorners({
  leftMm,
  topMm,
  sideMm,
}: CardMarker): readonly (readonly [x: number, y: number])[] {
  return [
    [leftMm, topMm],
    [leftMm + sideMm, topMm],
    [leftMm + sideMm, topMm + sideMm],
    [leftMm, topMm + sideMm],
  ];
}
