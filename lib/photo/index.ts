export {
  type Alignment,
  type AlignmentMethod,
  alignByPoints,
  PAIRS_MAX,
  PAIRS_MIN,
  PICK_BY_HAND,
  type PointPair,
  quantileOf,
} from './alignment.ts';
export { alignOnRim, type RimScene } from './alignOnRim.ts';
export { fitCamera } from './calibrate.ts';
export { cameraOfPhoto, type Lens, project, undistorted } from './camera.ts';
export {
  CALIBRATION_CORNERS_MIN,
  CALIBRATION_SHOTS_MIN,
  type CalibrationShot,
  type CameraFit,
  shotOfCard,
} from './cameraFit.ts';
export { focal35Of, profileForPhoto, profileOfCamera } from './cameraProfile.ts';
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
export {
  type CardDrawing,
  type CardShade,
  cellSideMm,
  type DrawnBox,
  type DrawnLine,
  type DrawnText,
  drawingOf,
  GREY_SRGB,
  rulerLengthMm,
  rulerTicks,
} from './cardDrawing.ts';
export { type CardPaper, type CardSheet, cardPapers, cardSheet } from './cardSheet.ts';
export { type CornerPick, type CornerSearch, type CornerSnap, snapCorner } from './corner.ts';
export { correlation } from './correlation.ts';
export type { EdgeSearch, EdgeSnap } from './edge.ts';
export { polygonArea, polylineLength } from './flat.ts';
export { type FoundPoints, locatePoints } from './flatReference.ts';
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
} from './formats.ts';
export { gatheredNet, turnedAround } from './gatheredNet.ts';
export {
  type Encoding,
  type GreyPicture,
  greyFromColours,
  type PictureWindow,
  upright,
  windowAround,
} from './grey.ts';
export { type Grid, type GridLine, gridOf } from './grid.ts';
export { type Homography, homographyFrom, mapPoint, middleOf, type Point } from './homography.ts';
export { judgeMeasure, type PhotoMeasure } from './judgeMeasure.ts';
export {
  judgeQuality,
  type PhotoQuality,
  type QualityJudgement,
  type QualityLevel,
  qualityLevel,
} from './judgeQuality.ts';
export { type PhotoScene, type Placed, SURFACE_BY_ZONE } from './laid.ts';
export { type MarkMeasured, measureMark, type PhotoRuler, photoRuler } from './measure.ts';
export { netThrough, type Seen } from './netThrough.ts';
export { crackOpening, type Opening, type OpeningSearch } from './opening.ts';
export { type PartLength, partLengths, STATED_SIZE } from './partLengths.ts';
export {
  inverseOf,
  isInside,
  isKnownAt,
  mapAtSize,
  mapBack,
  mapThrough,
  type Net,
  netNodes,
  type PhotoMap,
  type PictureSize,
} from './photoMap.ts';
export { isPlausible, overlapOf } from './plausible.ts';
export {
  type Ledge,
  ledgesNear,
  type Profile,
  type ProfilePiece,
  type ProfilePoint,
  profileOf,
} from './profile.ts';
export type { Contribution, Propagated } from './propagate.ts';
export { figuresNear, type PictureFigures, pictureFigures } from './quality.ts';
export { QUALITY_LIMITS, type QualityFigure, type QualityLimit } from './qualityLimits.ts';
export { type CheckedRuler, nominalRulerMm, readRuler } from './rulerCheck.ts';
export { knownRectangles, locateReference, referenceSizeMm, scalePoints } from './scales.ts';
export { sceneOfPhoto, sectionOfWheel } from './scene.ts';
export type { CrackWays, SizeTaken } from './sizing.ts';
export { type SpanSnap, snapSpan } from './spanEnds.ts';
export { knownPixels, type Raster, warped } from './warp.ts';
