/** The few things of OpenCV’s JavaScript build that are used, as they are; the rest of it stays out of sight. */
export interface CvMat {
  readonly rows: number;
  readonly cols: number;
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  readonly data32S: Int32Array;
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

export interface Cv {
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

/**
 * Loads OpenCV once. Its module has a `then` of its own that never settles into a plain value, so it must not be
 * awaited as it is.
 */
let loading: Promise<Cv> | null = null;
export function loadCv(): Promise<Cv> {
  loading ??= load();
  return loading;
}

type Raw = Partial<Cv> & { then?: unknown; onRuntimeInitialized?: () => void };

async function load(): Promise<Cv> {
  const imported = (await import('@techstark/opencv-js')) as unknown as { readonly default: Raw };
  const raw = imported.default;
  await new Promise<void>((resolve) => {
    if (raw.Mat !== undefined) resolve();
    else raw.onRuntimeInitialized = () => resolve();
  });
  Reflect.deleteProperty(raw, 'then');
  return raw as Cv;
}
