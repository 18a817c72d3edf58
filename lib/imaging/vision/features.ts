import type { GreyPicture } from '../../photo/index.ts';
import type { Cv, CvMat } from './cv.ts';
import { findCards } from './findCards.ts';

/** Longest side of the copy in which features are looked for, px. */
export const WORK_PX = 1600;
/** Features kept of one photo, the strongest first: matching takes their square. */
const FEATURES_MAX = 6000;
/** The least response of a feature (AKAZE, Alcantarilla 2013): a tenth of OpenCV's own, as metal has little contrast. */
const RESPONSE_MIN = 0.0003;
/** Room round a card that is left out as well: its edge and its shadow, as a share of the card. */
const CARD_MARGIN = 0.15;

/** One place in a photo that can be found again; px of the copy looked at, degrees. */
export interface Feature {
  readonly x: number;
  readonly y: number;
  readonly sizePx: number;
  readonly angleDegrees: number;
}

/** A photo made ready to be aligned. */
export interface Looked {
  /** The copy that is looked at, with its contrast evened out. */
  readonly picture: GreyPicture;
  /** Size of the copy over that of the upright original. */
  readonly factor: number;
  readonly features: readonly Feature[];
  /** One row a feature. Belongs to OpenCV: give it back with `forget`. */
  readonly descriptors: CvMat;
  /** 255 where things may be used, 0 on scale cards: those are laid elsewhere each time. */
  readonly usable: Uint8Array;
  forget(): void;
}

function maskOf(cv: Cv, picture: GreyPicture, factor: number, width: number, height: number): Uint8Array {
  const usable = new Uint8Array(width * height).fill(255);
  for (const { markers } of findCards(cv, picture)) {
    const corners = markers.flatMap((marker) => marker.corners);
    const xs = corners.map(([x]) => x * factor);
    const ys = corners.map(([, y]) => y * factor);
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    const margin = 8 + CARD_MARGIN * Math.max(right - left, bottom - top);
    const from = Math.max(0, Math.floor(left - margin));
    const to = Math.min(width, Math.ceil(right + margin));
    for (let y = Math.max(0, Math.floor(top - margin)); y < Math.min(height, bottom + margin); y += 1)
      usable.fill(0, y * width + from, y * width + Math.max(from, to));
  }
  return usable;
}

/** Looks for places in a photo that can be found again in another one. Scale cards are left out. */
export function look(cv: Cv, picture: GreyPicture): Looked {
  const factor = Math.min(1, WORK_PX / Math.max(picture.widthPx, picture.heightPx));
  const [width, height] = [Math.round(picture.widthPx * factor), Math.round(picture.heightPx * factor)];
  const whole = new cv.Mat(picture.heightPx, picture.widthPx, cv.CV_8UC1);
  whole.data.set(picture.values);
  const small = new cv.Mat();
  cv.resize(whole, small, new cv.Size(width, height), 0, 0, cv.INTER_AREA);
  const clahe = new cv.CLAHE(3, new cv.Size(8, 8));
  const even = new cv.Mat();
  clahe.apply(small, even);
  const mask = new cv.Mat(height, width, cv.CV_8UC1);
  const usable = maskOf(cv, picture, factor, width, height);
  mask.data.set(usable);
  const { features, descriptors } = described(cv, even, mask);
  const values = Uint8Array.from(even.data);
  for (const thing of [whole, small, clahe, even, mask]) thing.delete();
  return {
    picture: { widthPx: width, heightPx: height, values },
    factor,
    features,
    descriptors,
    usable,
    forget: () => descriptors.delete(),
  };
}

function described(cv: Cv, picture: CvMat, mask: CvMat): { features: Feature[]; descriptors: CvMat } {
  const akaze = new cv.AKAZE();
  akaze.setThreshold(RESPONSE_MIN);
  const [all, kept] = [new cv.KeyPointVector(), new cv.KeyPointVector()];
  akaze.detect(picture, all, mask);
  const points = Array.from({ length: all.size() }, (_, i) => all.get(i));
  points.sort((a, b) => b.response - a.response);
  for (const point of points.slice(0, FEATURES_MAX)) kept.push_back(point);
  const descriptors = new cv.Mat();
  akaze.compute(picture, kept, descriptors);
  const features = Array.from({ length: kept.size() }, (_, i): Feature => {
    const { pt, size, angle } = kept.get(i);
    return { x: pt.x, y: pt.y, sizePx: size, angleDegrees: angle };
  });
  for (const thing of [akaze, all, kept]) thing.delete();
  return { features, descriptors };
}
