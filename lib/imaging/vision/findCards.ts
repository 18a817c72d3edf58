import {
  type CardName,
  cardLayout,
  cardLayouts,
  type GreyPicture,
  homographyFrom,
  mapPoint,
  markerCorners,
  middleOf,
  type Point,
} from '../../photo/index.ts';
import type { Cv, CvMat } from './cv.ts';
import { refinedCorners } from './refine.ts';
import { showsMarker } from './verify.ts';

/** A marker found in a picture: corners clockwise from the top left of the marker as printed, px. */
export interface FoundMarker {
  readonly id: number;
  readonly corners: readonly [Point, Point, Point, Point];
}

/** A card found in a picture, with those of its markers that could be read. */
export interface FoundCard {
  readonly layout: CardName;
  readonly markers: readonly FoundMarker[];
}

/** Longest side of the picture that is searched first, px. */
const FIRST_LOOK_PX = 1600;
/** A marker’s side in the close look, px: enough for its cells to be read well. */
const CLOSE_SIDE_PX = 48;
/** Longest side of a close look, px. */
const CLOSE_LOOK_MAX_PX = 1800;

interface Look {
  /** From the picture looked at to the whole picture. */
  readonly scale: number;
  readonly left: number;
  readonly top: number;
}

function matOf(cv: Cv, { widthPx, heightPx, values }: GreyPicture): CvMat {
  const mat = new cv.Mat(heightPx, widthPx, cv.CV_8UC1);
  mat.data.set(values);
  return mat;
}

function resized(cv: Cv, from: CvMat, factor: number): CvMat {
  const to = new cv.Mat();
  const size = new cv.Size(Math.round(from.cols * factor), Math.round(from.rows * factor));
  cv.resize(from, to, size, 0, 0, factor < 1 ? cv.INTER_AREA : cv.INTER_CUBIC);
  return to;
}

/** Local contrast evened out: torch-lit and overexposed cards become readable. */
function evened(cv: Cv, from: CvMat): CvMat {
  const clahe = new cv.CLAHE(4, new cv.Size(8, 8));
  const to = new cv.Mat();
  clahe.apply(from, to);
  clahe.delete();
  return to;
}

/** Side of the smallest marker that is looked for, px: two pixels a cell. */
const SMALLEST_SIDE_PX = 9;

type Quad = FoundMarker['corners'];

/** Markers in one look, and quadrilaterals that may be markers and could not be read; px of the whole picture. */
function lookAt(cv: Cv, mat: CvMat, { scale, left, top }: Look): { markers: FoundMarker[]; unread: Quad[] } {
  const dictionary = cv.getPredefinedDictionary(cv.DICT_4X4_50);
  const parameters = new cv.aruco_DetectorParameters();
  parameters.adaptiveThreshWinSizeMax = 43;
  parameters.minMarkerPerimeterRate = Math.min(0.015, (4 * SMALLEST_SIDE_PX) / Math.max(mat.cols, mat.rows));
  parameters.minOtsuStdDev = 3;
  parameters.maxErroneousBitsInBorderRate = 0.5;
  parameters.errorCorrectionRate = 1;
  parameters.perspectiveRemovePixelPerCell = 8;
  parameters.polygonalApproxAccuracyRate = 0.05;
  const refine = new cv.aruco_RefineParameters(10, 3, true);
  const detector = new cv.aruco_ArucoDetector(dictionary, parameters, refine);
  const [corners, ids, rejected] = [new cv.MatVector(), new cv.Mat(), new cv.MatVector()];
  detector.detectMarkers(mat, corners, ids, rejected);
  const quadOf = (list: typeof corners, i: number): Quad => {
    const one = list.get(i);
    const at = (k: number): Point => [
      ((one.data32F[2 * k] ?? 0) + 0.5) * scale - 0.5 + left,
      ((one.data32F[2 * k + 1] ?? 0) + 0.5) * scale - 0.5 + top,
    ];
    const quad: Quad = [at(0), at(1), at(2), at(3)];
    one.delete();
    return quad;
  };
  const markers = Array.from({ length: corners.size() }, (_, i) => ({
    id: ids.data32S[i] ?? -1,
    corners: quadOf(corners, i),
  }));
  const unread = Array.from({ length: rejected.size() }, (_, i) => quadOf(rejected, i));
  for (const thing of [corners, ids, rejected, detector, refine, parameters, dictionary]) thing.delete();
  return { markers, unread };
}

const markersIn = (cv: Cv, mat: CvMat, look: Look) => lookAt(cv, mat, look).markers;

const sideOf = ({ corners: [a, , c] }: Pick<FoundMarker, 'corners'>) =>
  Math.hypot(a[0] - c[0], a[1] - c[1]) / Math.SQRT2;

/** Of each id the largest: small repeats are chance. */
function largestOfEach(markers: readonly FoundMarker[]): FoundMarker[] {
  const best = new Map<number, FoundMarker>();
  for (const marker of markers) {
    const known = best.get(marker.id);
    if (known === undefined || sideOf(marker) > sideOf(known)) best.set(marker.id, marker);
  }
  return [...best.values()].sort((a, b) => a.id - b.id);
}

function cardsOf(markers: readonly FoundMarker[]): FoundCard[] {
  return cardLayouts
    .map(({ name, markers: printed }) => ({
      layout: name,
      markers: markers.filter(({ id }) => printed.some((one) => one.id === id)),
    }))
    .filter(({ markers: found }) => found.length > 0)
    .sort((a, b) => b.markers.length - a.markers.length);
}

const isWhole = ({ markers }: FoundCard) => markers.length === 4;

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The map from a card to the picture, from the markers found of it; null where they do not fix one. */
function placeOf({ layout, markers }: FoundCard) {
  const card = cardLayout(layout);
  const pairs = markers.flatMap(({ id, corners }) => {
    const printed = card.markers.find((one) => one.id === id);
    return printed === undefined
      ? []
      : markerCorners(printed).map((mm, k) => ({ mm, px: corners[k] ?? corners[0] }));
  });
  const toPx = homographyFrom(
    pairs.map(({ mm }) => mm),
    pairs.map(({ px }) => px),
  );
  return toPx.ok ? { card, printed: card.markers, toPx: toPx.value } : null;
}

/** Where a card must lie from the markers found of it, with a margin; px. */
function boxOfCard(found: FoundCard): Box | null {
  const place = placeOf(found);
  if (place === null) return null;
  const { card, toPx } = place;
  const { widthMm, heightMm } = card;
  const m = 8;
  const points = (
    [
      [-m, -m],
      [widthMm + m, -m],
      [widthMm + m, heightMm + m],
      [-m, heightMm + m],
    ] as const
  ).map((mm) => mapPoint(toPx, mm));
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

/** Part of a picture, by copying; the box is cut to the picture. Null when nothing is left. */
function cut(picture: GreyPicture, box: Box): { part: GreyPicture; left: number; top: number } | null {
  const left = Math.max(0, Math.floor(box.left));
  const top = Math.max(0, Math.floor(box.top));
  const right = Math.min(picture.widthPx, Math.ceil(box.right));
  const bottom = Math.min(picture.heightPx, Math.ceil(box.bottom));
  if (!(right - left > 16 && bottom - top > 16)) return null;
  const values = new Uint8Array((right - left) * (bottom - top));
  for (let y = top; y < bottom; y += 1) {
    values.set(
      picture.values.subarray(y * picture.widthPx + left, y * picture.widthPx + right),
      (y - top) * (right - left),
    );
  }
  return { part: { widthPx: right - left, heightPx: bottom - top, values }, left, top };
}

/** Looks again, closer, where a card with markers missing must lie. */
function closeLook(cv: Cv, picture: GreyPicture, card: FoundCard): FoundMarker[] {
  const box = boxOfCard(card);
  const region = box === null ? null : cut(picture, box);
  if (region === null) return [];
  const side = Math.max(1, Math.min(...card.markers.map(sideOf)));
  const longest = Math.max(region.part.widthPx, region.part.heightPx);
  const factor = Math.min(
    4,
    CLOSE_LOOK_MAX_PX / longest,
    Math.max(CLOSE_SIDE_PX / side, Math.min(1, CLOSE_LOOK_MAX_PX / longest)),
  );
  const whole = matOf(cv, region.part);
  const near = resized(cv, whole, factor);
  const even = evened(cv, near);
  const look = { scale: 1 / factor, left: region.left, top: region.top };
  const found = [...markersIn(cv, near, look), ...markersIn(cv, even, look)];
  for (const mat of [whole, near, even]) mat.delete();
  return found;
}

/** Sides of quadrilaterals that are looked at one by one, px, and how many of them at most. */
const SMALL_SIDE_PX = [9, 60] as const;
const SMALL_MAX = 60;

/** Markers in the picture at full size, and of those too small to be read there each by itself, enlarged. */
function smallMarkers(cv: Cv, picture: GreyPicture, whole: CvMat): FoundMarker[] {
  const { markers, unread } = lookAt(cv, whole, { scale: 1, left: 0, top: 0 });
  if (cardsOf(markers).length > 0) return markers;
  const found: FoundMarker[] = [];
  const small = unread
    .map((corners) => ({ corners, side: sideOf({ corners }) }))
    .filter(({ side }) => side > SMALL_SIDE_PX[0] && side < SMALL_SIDE_PX[1]);
  for (const { corners, side } of small.slice(0, SMALL_MAX)) {
    const [x, y] = middleOf(corners);
    const reach = side * 1.2;
    const region = cut(picture, { left: x - reach, top: y - reach, right: x + reach, bottom: y + reach });
    if (region === null) continue;
    const factor = Math.min(6, CLOSE_SIDE_PX / side);
    const part = matOf(cv, region.part);
    const near = resized(cv, part, factor);
    found.push(...markersIn(cv, near, { scale: 1 / factor, left: region.left, top: region.top }));
    for (const mat of [part, near]) mat.delete();
  }
  return found;
}

/**
 * Finds the project’s scale cards in a picture: first in a smaller copy, then, where markers are missing, with evened
 * contrast, closer where a card must lie, and last in the picture at full size. Corners are refined on the picture
 * itself. The card with the most markers comes first; markers that cannot be read are left out, never guessed.
 */
export function findCards(cv: Cv, picture: GreyPicture): FoundCard[] {
  const longest = Math.max(picture.widthPx, picture.heightPx);
  const whole = matOf(cv, picture);
  const factor = Math.min(1, FIRST_LOOK_PX / longest);
  const first = factor === 1 ? whole : resized(cv, whole, factor);
  const look = { scale: 1 / factor, left: 0, top: 0 };
  let markers = largestOfEach(markersIn(cv, first, look));
  const ready = () => cardsOf(markers).some(isWhole);
  if (!ready()) {
    for (const card of cardsOf(markers))
      markers = largestOfEach([...markers, ...closeLook(cv, picture, card)]);
  }
  if (cardsOf(markers).length === 0) {
    const even = evened(cv, first);
    markers = largestOfEach(markersIn(cv, even, look));
    even.delete();
    if (cardsOf(markers).length === 0) markers = largestOfEach(smallMarkers(cv, picture, whole));
    if (!ready()) {
      for (const card of cardsOf(markers))
        markers = largestOfEach([...markers, ...closeLook(cv, picture, card)]);
    }
  }
  if (first !== whole) first.delete();
  whole.delete();
  const printed = cardsOf(markers).flatMap((card) => card.markers);
  const refined = printed.flatMap(({ id, corners }) => {
    const exact = refinedCorners(picture, corners);
    return exact !== null && showsMarker(picture, exact, id) ? [{ id, corners: exact }] : [];
  });
  return cardsOf(refined).map((card) => completed(picture, card));
}

/** Adds markers that the detector did not read and that are seen where the others say they must be. */
function completed(picture: GreyPicture, card: FoundCard): FoundCard {
  if (isWhole(card)) return card;
  const { printed, toPx } = placeOf(card) ?? { printed: [], toPx: null };
  if (toPx === null) return card;
  const added = printed
    .filter(({ id }) => card.markers.every((marker) => marker.id !== id))
    .flatMap((marker): FoundMarker[] => {
      const [a, b, c, d] = markerCorners(marker).map((mm) => mapPoint(toPx, mm));
      if (a === undefined || b === undefined || c === undefined || d === undefined) return [];
      const exact = refinedCorners(picture, [a, b, c, d]);
      return exact !== null && showsMarker(picture, exact, marker.id)
        ? [{ id: marker.id, corners: exact }]
        : [];
    });
  return { ...card, markers: [...card.markers, ...added].sort((p, q) => p.id - q.id) };
}
