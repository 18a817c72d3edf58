export {
  type CardBox,
  type CardLayout,
  type CardMarker,
  type CardName,
  type CardRuler,
  cardLayout,
  cardLayouts,
  markerCells,
  markerCorners,
} from './card.ts';
export { polygonArea, polylineLength } from './flat.ts';
export {
  PHOTO_BYTES_MAX,
  PHOTO_ENDINGS,
  PHOTO_NAME_CHARS_MAX,
  PHOTO_PIXELS_MAX,
  PHOTO_TYPES,
  type PhotoFormat,
  photoDamagedProblem,
  photoFormat,
  photoLabel,
  photoPixelsProblem,
  photoSizeProblem,
  SNIFF_BYTES,
  type Sniffed,
  sniffPhoto,
} from './formats.ts';
export { depthAt, type Homography, homographyFrom, mapPoint, type Point } from './homography.ts';
export { type Contribution, knownRectangles, measureShape, type PhotoMeasure } from './measure.ts';
