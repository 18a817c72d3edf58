export { polygonArea, polylineLength } from './flat.ts';
export { depthAt, type Homography, homographyFrom, mapPoint, type Point } from './homography.ts';
export { type Contribution, knownRectangles, measureShape, type PhotoMeasure } from './measure.ts';
