import type { Problem, Result } from '../base/index.ts';
import type { PhotoCamera, PhotoScale } from '../record/index.ts';
import { type CameraGuess, cameraOfPhoto } from './camera.ts';
import { type CardMarker, cardLayout, cardLayouts, markerCorners } from './card.ts';
import { locatePoints } from './flatReference.ts';
import type { Point } from './homography.ts';
import { partLengthU } from './partLengths.ts';
import type { Reference } from './reference.ts';
import { locateSpans } from './spanReference.ts';

/** Standard uncertainty of picking one coordinate by finger or mouse, px. Our own choice, to be replaced by trials. */
export const PICK_U_PX = 1.5;
/** Standard uncertainty of a marker’s corner as found, px; the spread of the corners in the photo corrects it. */
const FOUND_U_PX = 0.3;
/** A tape laid by hand: half a millimetre each end, rectangular. Common practice, no source. */
const TAPE_U_MM = 0.5 / Math.sqrt(3);
/** A check ruler measured on the print with a steel rule: a quarter of a millimetre, rectangular. Common practice, no source. */
const RULER_U_MM = 0.25 / Math.sqrt(3);
/** A print whose ruler was never measured: printers that fit to the page shrink by up to some percent. Our own choice. */
const UNCHECKED_PRINT_SHARE = 0.015;
/** Printers stretch one direction against the other by less than this; our own choice. */
export const ASPECT_SHARE = 0.001;
/** How deep a tape lies across the part, mm. */
const TAPE_WIDTH_MM = 15;

/** Tolerances of cut paper: ±1.5 mm up to 150 mm, ±2 mm up to 600 mm (ISO 216, from memory). */
function paperUMm(sideMm: number): number {
  return (sideMm <= 150 ? 1.5 : 2) / Math.sqrt(3);
}

/** Rectangles of known size, mm: ISO 216 A4 and A5, ISO/IEC 7810 ID-1 card, the program's own scale cards. */
export const knownRectangles: readonly {
  readonly what: string;
  readonly widthMm: number;
  readonly heightMm: number;
}[] = [
  { what: 'A4 sheet', widthMm: 297, heightMm: 210 },
  { what: 'A5 sheet', widthMm: 210, heightMm: 148 },
  { what: 'ID-1 card', widthMm: 85.6, heightMm: 53.98 },
  ...cardLayouts.map(({ name, widthMm, heightMm }) => ({ what: `Scale card, ${name}`, widthMm, heightMm })),
];

type Rectangle = Extract<PhotoScale, { source: 'rectangle' }>;
type Card = Extract<PhotoScale, { source: 'scale card' }>;

/** Relative standard uncertainty of a rectangle’s size. */
function rectangleShare({ what, widthMm, heightMm }: Rectangle): number {
  if (what.includes('sheet')) return Math.max(paperUMm(widthMm) / widthMm, paperUMm(heightMm) / heightMm);
  // ID-1 outer size ±0.13 mm (ISO/IEC 7810, from memory); other rectangles as a tape reading.
  const sideU = what === 'ID-1 card' ? 0.13 / Math.sqrt(3) : TAPE_U_MM;
  return sideU / Math.min(widthMm, heightMm);
}

const middleOf = ({ leftMm, topMm, sideMm }: CardMarker): Point => [leftMm + sideMm / 2, topMm + sideMm / 2];

function locateCard(card: Card, camera: CameraGuess): Result<Reference, Problem> {
  const layout = cardLayout(card.layout);
  const printed = card.ruler === null ? 1 : card.ruler.measuredMm / card.ruler.nominalMm;
  const pairs = card.markers.flatMap(({ id, corners }) => {
    const marker = layout.markers.find((one) => one.id === id);
    return marker === undefined
      ? []
      : markerCorners(marker).map((mm, k) => ({ mm, px: corners[k] as Point, patch: middleOf(marker) }));
  });
  const onPrint = ([x, y]: Point): Point => [
    (x - layout.widthMm / 2) * printed,
    (y - layout.heightMm / 2) * printed,
  ];
  return locatePoints(
    {
      mm: pairs.map(({ mm }) => onPrint(mm)),
      px: pairs.map(({ px }) => px),
      patchMm: pairs.map(({ patch }) => onPrint(patch)),
      pointU: FOUND_U_PX,
      learnSpread: true,
      sizeShareU: card.ruler === null ? UNCHECKED_PRINT_SHARE : RULER_U_MM / card.ruler.nominalMm,
      aspectShareU: ASPECT_SHARE,
    },
    camera,
  );
}

function locateRectangle(rectangle: Rectangle, camera: CameraGuess): Result<Reference, Problem> {
  const [x, y] = [rectangle.widthMm / 2, rectangle.heightMm / 2];
  const share = rectangleShare(rectangle);
  return locatePoints(
    {
      mm: [
        [-x, -y],
        [x, -y],
        [x, y],
        [-x, y],
      ],
      px: rectangle.corners,
      patchMm: null,
      pointU: PICK_U_PX,
      learnSpread: false,
      sizeShareU: share,
      aspectShareU: share / 2,
    },
    camera,
  );
}

/** The points of a scale, px. */
export function scalePoints(scale: PhotoScale): readonly Point[] {
  switch (scale.source) {
    case 'known length':
      return scale.ends;
    case 'two known lengths':
      return scale.spans.flatMap(({ ends }) => ends);
    case 'rectangle':
      return scale.corners;
    case 'scale card':
      return scale.markers.flatMap(({ corners }) => corners);
  }
}

/** Where nothing is known of the picture: a common camera whose picture reaches a little beyond the points. */
function cameraAround(points: readonly Point[]): CameraGuess {
  const reach = (k: 0 | 1) => Math.ceil(1.5 * Math.max(1, ...points.map((point) => point[k])));
  const guess = cameraOfPhoto({ widthPx: reach(0), heightPx: reach(1), focal35Mm: null, profile: null });
  return { ...guess, focalShareU: 2 * guess.focalShareU };
}

/**
 * Locates what gives the scale: card, rectangle, one or two known lengths. Fails when its points do not fix a plane.
 */
export function locateReference(scale: PhotoScale, camera: PhotoCamera | null): Result<Reference, Problem> {
  const guess = camera === null ? cameraAround(scalePoints(scale)) : cameraOfPhoto(camera);
  switch (scale.source) {
    case 'known length':
      return locateSpans(
        [{ ...scale, shareU: (partLengthU(scale.what, scale.lengthMm) ?? TAPE_U_MM) / scale.lengthMm }],
        PICK_U_PX,
        guess,
      );
    case 'two known lengths': {
      const [a, b] = scale.spans.map((span) => ({ ...span, shareU: TAPE_U_MM / span.lengthMm }));
      return locateSpans(a !== undefined && b !== undefined ? [a, b] : ([] as never), PICK_U_PX, guess);
    }
    case 'rectangle':
      return locateRectangle(scale, guess);
    case 'scale card':
      return locateCard(scale, guess);
  }
}

/** Size of a reference along its long side and across it, mm: what a ledge must carry. */
export function referenceSizeMm(scale: PhotoScale): { widthMm: number; depthMm: number } {
  switch (scale.source) {
    case 'scale card': {
      const { widthMm, heightMm } = cardLayout(scale.layout);
      return { widthMm, depthMm: heightMm };
    }
    case 'rectangle':
      return { widthMm: scale.widthMm, depthMm: scale.heightMm };
    // A tape bends to the part, and a length of the part is the part.
    case 'known length':
    case 'two known lengths':
      return { widthMm: 0, depthMm: TAPE_WIDTH_MM };
  }
}
