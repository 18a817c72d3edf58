import { expose } from 'comlink';
import { parse } from 'exifr';
import { ok, type Problem, type Result } from '../../lib/base/index.ts';
import { greyPhoto } from '../../lib/imaging/browser/grey.ts';
import { type FoundCard, findCards, loadCv } from '../../lib/imaging/vision/index.ts';
import {
  type CalibrationShot,
  type CameraFit,
  crackOpening,
  figuresNear,
  fitCamera,
  type GreyPicture,
  judgeQuality,
  type Opening,
  type Point,
  pictureFigures,
  type QualityJudgement,
  snapCorner,
  snapSpan,
  windowAround,
} from '../../lib/photo/index.ts';
import type { FiguresNear } from '../../lib/record/index.ts';

/** What was found in a photo; pixels of the upright picture. */
export interface CardFinding {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Focal length in terms of 35 mm film as the photo states it; null where it does not. */
  readonly focal35Mm: number | null;
  /** The card with the most markers first. */
  readonly cards: readonly FoundCard[];
  /** What is wrong with the photo for measuring, worst first, each with its way out; empty where nothing is. */
  readonly faults: readonly QualityJudgement[];
}

let kept: { readonly key: string; readonly picture: GreyPicture } | null = null;

/** The picture of a photo; the last one is kept, because one looks at a photo for a while. */
async function pictureFor(key: string, photo: Blob): Promise<GreyPicture> {
  if (kept?.key === key) return kept.picture;
  const picture = await greyPhoto(photo);
  kept = { key, picture };
  return picture;
}

async function focal35Of(photo: Blob): Promise<number | null> {
  const tags = (await parse(photo, ['FocalLengthIn35mmFormat']).catch(() => undefined)) as
    | { FocalLengthIn35mmFormat?: unknown }
    | undefined;
  const value = tags?.FocalLengthIn35mmFormat;
  return typeof value === 'number' && value > 0 ? value : null;
}

/** Judges a photo round its card, or as a whole without one. */
function faultsOf(picture: GreyPicture, [card]: readonly FoundCard[]): QualityJudgement[] {
  const corners = card?.markers.flatMap((marker) => marker.corners) ?? [];
  const near = pictureFigures(
    picture,
    corners.length === 0 ? undefined : windowAround(picture, corners, MARGIN_PX),
  );
  const sides = (card?.markers ?? []).flatMap(({ corners: list }) =>
    list.map((corner, i) =>
      Math.hypot(corner[0] - (list[(i + 1) % 4]?.[0] ?? 0), corner[1] - (list[(i + 1) % 4]?.[1] ?? 0)),
    ),
  );
  const judged = judgeQuality({
    near: near.ok ? near.value : null,
    mmPerPx: null,
    obliquityDegrees: null,
    referenceShare: null,
    markerPx: sides.length === 0 ? 'not found' : Math.min(...sides),
  });
  return judged.ok ? judged.value.filter(({ level, value }) => level !== 'good' && value !== null) : [];
}

/** What is looked at round the card beside it, px. */
const MARGIN_PX = 60;

const eyes = {
  /** Loads what finding needs, so that the first photo does not wait for it. */
  async ready(): Promise<void> {
    await loadCv();
  },
  /** `key` names the photo, so that it is not decoded again. */
  async find(key: string, photo: Blob): Promise<CardFinding> {
    const [{ cv }, focal35Mm, picture] = await Promise.all([
      loadCv(),
      focal35Of(photo),
      pictureFor(key, photo),
    ]);
    const { widthPx, heightPx } = picture;
    const cards = findCards(cv, picture);
    return { widthPx, heightPx, focal35Mm, cards, faults: faultsOf(picture, cards) };
  },
  /** The picture at hand has another name from now on; nothing happens when it is another’s. */
  async rename(from: string, to: string): Promise<void> {
    if (kept?.key === from) kept = { key: to, picture: kept.picture };
  },
  /** Both ends of a span, pulled to edges along it. */
  async pullSpan(key: string, photo: Blob, ends: readonly [Point, Point]): Promise<Result<Point[], Problem>> {
    const snapped = snapSpan(await pictureFor(key, photo), ends);
    return snapped.ok ? ok(snapped.value.ends.map(({ at }) => at)) : snapped;
  },
  /** A camera fitted to several shots of a card; it takes a moment. */
  async fit(shots: readonly CalibrationShot[]): Promise<Result<CameraFit, Problem>> {
    return fitCamera(shots);
  },
  /** How the photo shows the neighbourhood of points. */
  async near(key: string, photo: Blob, points: readonly Point[]): Promise<Result<FiguresNear, Problem>> {
    return figuresNear(await pictureFor(key, photo), points);
  },
  /** Opening of a crack along its main trace, px. */
  async opening(key: string, photo: Blob, trace: readonly Point[]): Promise<Result<Opening, Problem>> {
    return crackOpening(await pictureFor(key, photo), trace);
  },
  /** The corners of an outline, each pulled to where its two sides meet. */
  async pullCorners(key: string, photo: Blob, corners: readonly Point[]): Promise<Result<Point[], Problem>> {
    const picture = await pictureFor(key, photo);
    const pulled: Point[] = [];
    for (const [i, corner] of corners.entries()) {
      const before = corners.at(i - 1) ?? corner;
      const after = corners[(i + 1) % corners.length] ?? corner;
      const snapped = snapCorner(picture, { corner, before, after });
      if (!snapped.ok) return snapped;
      pulled.push(snapped.value.at);
    }
    return ok(pulled);
  },
};
export type Eyes = typeof eyes;

expose(eyes);
