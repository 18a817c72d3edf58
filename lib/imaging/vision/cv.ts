import imported from '@techstark/opencv-js';

/** The few things of OpenCV’s JavaScript build that are used, as they are; the rest of it stays out of sight. */
export interface CvMat {
  readonly rows: number;
  readonly cols: number;
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  readonly data32S: Int32Array;
  readonly data64F: Float64Array;
  roi(box: object): CvMat;
  delete(): void;
}

interface CvMatVector {
  size(): number;
  get(index: number): CvMat;
  delete(): void;
}

interface CvDetectorParameters {
  adaptiveThreshWinSizeMin: number;
  adaptiveThreshWinSizeMax: number;
  adaptiveThreshWinSizeStep: number;
  minMarkerPerimeterRate: number;
  errorCorrectionRate: number;
  maxErroneousBitsInBorderRate: number;
  cornerRefinementMethod: number;
  minOtsuStdDev: number;
  polygonalApproxAccuracyRate: number;
  perspectiveRemovePixelPerCell: number;
  delete(): void;
}

interface CvDetector {
  detectMarkers(picture: CvMat, corners: CvMatVector, ids: CvMat, rejected: CvMatVector): void;
  delete(): void;
}

export interface CvKeyPoint {
  readonly pt: { readonly x: number; readonly y: number };
  readonly size: number;
  readonly angle: number;
  readonly response: number;
}

interface CvKeyPointVector {
  size(): number;
  get(index: number): CvKeyPoint;
  push_back(point: CvKeyPoint): void;
  delete(): void;
}

interface CvFeatures {
  setThreshold(least: number): void;
  detect(picture: CvMat, points: CvKeyPointVector, mask: CvMat): void;
  compute(picture: CvMat, points: CvKeyPointVector, descriptors: CvMat): void;
  delete(): void;
}

interface CvMatch {
  readonly queryIdx: number;
  readonly trainIdx: number;
  readonly distance: number;
}

interface CvMatches {
  size(): number;
  get(index: number): { size(): number; get(index: number): CvMatch; delete(): void };
  delete(): void;
}

interface CvMatcher {
  knnMatch(first: CvMat, second: CvMat, matches: CvMatches, count: number): void;
  delete(): void;
}

export interface Cv {
  readonly AKAZE: new () => CvFeatures;
  readonly KeyPointVector: new () => CvKeyPointVector;
  readonly BFMatcher: new (norm: number, crossCheck: boolean) => CvMatcher;
  readonly DMatchVectorVector: new () => CvMatches;
  readonly Rect: new (x: number, y: number, width: number, height: number) => object;
  readonly NORM_HAMMING: number;
  readonly USAC_MAGSAC: number;
  readonly CV_32FC2: number;
  readonly TM_CCOEFF_NORMED: number;
  matFromArray(rows: number, columns: number, type: number, values: readonly number[]): CvMat;
  findHomography(
    from: CvMat,
    to: CvMat,
    method: number,
    thresholdPx: number,
    inliers: CvMat,
    iterations: number,
    confidence: number,
  ): CvMat;
  matchTemplate(picture: CvMat, part: CvMat, answer: CvMat, method: number): void;
  readonly Mat: new (rows?: number, cols?: number, type?: number) => CvMat;
  readonly MatVector: new () => CvMatVector;
  readonly Size: new (width: number, height: number) => object;
  readonly aruco_DetectorParameters: new () => CvDetectorParameters;
  readonly aruco_RefineParameters: new (
    minRepDistance: number,
    errorCorrectionRate: number,
    checkAllOrders: boolean,
  ) => { delete(): void };
  readonly aruco_ArucoDetector: new (
    dictionary: object,
    parameters: CvDetectorParameters,
    refine: object,
  ) => CvDetector;
  readonly CV_8UC1: number;
  readonly INTER_AREA: number;
  readonly INTER_CUBIC: number;
  readonly DICT_4X4_50: number;
  getPredefinedDictionary(name: number): { delete(): void };
  resize(from: CvMat, to: CvMat, size: object, fx: number, fy: number, how: number): void;
  readonly CLAHE: new (clip: number, grid: object) => { apply(from: CvMat, to: CvMat): void; delete(): void };
}

type Raw = Partial<Cv> & { then?: unknown; onRuntimeInitialized?: () => void };

let loading: Promise<{ readonly cv: Cv }> | null = null;

/**
 * OpenCV, ready to work. Its module has a `then` of its own that hands out the module again, so that waiting for it, or
 * importing it dynamically, would never end: it is imported as it is and handed on inside another object.
 */
export function loadCv(): Promise<{ readonly cv: Cv }> {
  loading ??= new Promise((resolve) => {
    const raw = imported as unknown as Raw;
    const ready = () => resolve({ cv: raw as Cv });
    if (raw.Mat === undefined) raw.onRuntimeInitialized = ready;
    else ready();
  });
  return loading;
}
